import { answer, bodyOf, instructorOf } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { good, type Result } from '@/lib/core/result.ts';
import { type StudioMoves, studioMoves } from '@/lib/protocol/api.ts';

export const GET = (request: Request): Promise<Response> => answer(read(request));
export const PUT = (request: Request): Promise<Response> => answer(write(request));

async function read(request: Request): Promise<Result<StudioMoves>> {
  const instructor = await instructorOf(request);
  return instructor.ok ? good(await services().moves.read()) : instructor;
}

async function write(request: Request): Promise<Result<StudioMoves>> {
  const instructor = await instructorOf(request);
  if (!instructor.ok) return instructor;
  const moves = await bodyOf(request, studioMoves);
  if (moves.ok) await services().moves.write(moves.value);
  return moves;
}
