import { answer, bodyOf, instructorOf } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { good, type Result } from '@/lib/core/result.ts';
import { type BoardSummary, newBoardRequest } from '@/lib/protocol/api.ts';

export const GET = (request: Request): Promise<Response> => answer(list(request));
export const POST = (request: Request): Promise<Response> => answer(make(request));

async function list(request: Request): Promise<Result<{ boards: BoardSummary[] }>> {
  const instructor = await instructorOf(request);
  if (!instructor.ok) return instructor;
  const today = new Date().toISOString().slice(0, 10);
  return good({ boards: await services().boards.list(today) });
}

async function make(request: Request): Promise<Result<{ id: string }>> {
  const instructor = await instructorOf(request);
  if (!instructor.ok) return instructor;
  const words = await bodyOf(request, newBoardRequest);
  return words.ok ? good({ id: await services().boards.make(words.value) }) : words;
}
