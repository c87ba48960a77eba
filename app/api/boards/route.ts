import { answer, bodyOf, instructorOf } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { cookieIn, ZONE } from '@/lib/access/session.ts';
import { refusalWords } from '@/lib/core/refusal.ts';
import { bad, good, type Result } from '@/lib/core/result.ts';
import { type BoardSummary, boardsQuery, newBoardRequest } from '@/lib/protocol/api.ts';

export const GET = (request: Request): Promise<Response> => answer(list(request));
export const POST = (request: Request): Promise<Response> => answer(make(request));

async function list(request: Request): Promise<Result<{ boards: BoardSummary[]; total: number }>> {
  const instructor = await instructorOf(request);
  if (!instructor.ok) return instructor;
  const reader = cookieIn(request.headers.get('cookie'), ZONE);
  const page = boardsQuery.safeParse(Object.fromEntries(new URL(request.url).searchParams));
  if (!page.success) return bad('malformed', `${refusalWords(page.error)}.`);
  return good(await services().boards.list(reader, page.data));
}

async function make(request: Request): Promise<Result<{ id: string }>> {
  const instructor = await instructorOf(request);
  if (!instructor.ok) return instructor;
  const words = await bodyOf(request, newBoardRequest);
  return words.ok ? good({ id: await services().boards.make(words.value) }) : words;
}
