import { answer, DONE, writerOf } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { bad, good, type Result } from '@/lib/core/result.ts';

type Context = { params: Promise<{ board: string }> };

export const DELETE = (request: Request, context: Context): Promise<Response> =>
  answer(remove(request, context));

async function remove(request: Request, { params }: Context): Promise<Result<typeof DONE>> {
  const grant = await writerOf(request, (await params).board);
  if (!grant.ok) return grant;
  if (grant.value.role !== 'instructor') return bad('no right', 'Only the instructor may remove a board.');
  const removed = await services().boards.remove(grant.value.board);
  return removed.ok ? good(DONE) : removed;
}
