import { answer, bodyOf, instructorOf } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { boardFile } from '@/lib/core/areas/boardFile.ts';
import { good, type Result } from '@/lib/core/result.ts';
import type { z } from '@/lib/core/zod.ts';
import type { importAnswer } from '@/lib/protocol/api.ts';

export const POST = (request: Request): Promise<Response> => answer(bring(request));

/** Bytes of a board in a file: each of its areas may have 8 MB, which none comes near. */
const LARGEST_FILE = 16_000_000;

/**
 * A new board that holds what the file says, with an id of its own. The recording's bytes are not in the file, and a board
 * may fetch only what was uploaded to it: so the song is to be chosen once more.
 */
async function bring(request: Request): Promise<Result<z.infer<typeof importAnswer>>> {
  const instructor = await instructorOf(request);
  if (!instructor.ok) return instructor;
  const board = await bodyOf(request, boardFile, LARGEST_FILE);
  if (!board.ok) return board;
  const made = await services().boards.makeFrom(board.value);
  return made.ok ? good({ id: made.value, recording: board.value.plan.recording?.id ?? null }) : made;
}
