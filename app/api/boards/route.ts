import { answer, bodyOf, instructorOf } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { cookieIn, ZONE } from '@/lib/access/session.ts';
import { good, type Result } from '@/lib/core/result.ts';
import { type BoardSummary, newBoardRequest } from '@/lib/protocol/api.ts';

export const GET = (request: Request): Promise<Response> => answer(list(request));
export const POST = (request: Request): Promise<Response> => answer(make(request));

async function list(request: Request): Promise<Result<{ boards: BoardSummary[] }>> {
  const instructor = await instructorOf(request);
  if (!instructor.ok) return instructor;
  const reader = cookieIn(request.headers.get('cookie'), ZONE);
  return good({ boards: await services().boards.list(reader) });
}

async function make(request: Request): Promise<Result<{ id: string }>> {
  const instructor = await instructorOf(request);
  if (!instructor.ok) return instructor;
  const words = await bodyOf(request, newBoardRequest);
  return words.ok ? good({ id: await services().boards.make(words.value) }) : words;
}
