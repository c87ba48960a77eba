import { answer } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { good, type Result } from '@/lib/core/result.ts';
import type { BoardHistory } from '@/lib/protocol/api.ts';
import { type Context, instructorGrantOf } from './_instructor.ts';

export const GET = (request: Request, context: Context): Promise<Response> => answer(tell(request, context));

async function tell(request: Request, context: Context): Promise<Result<BoardHistory>> {
  const grant = await instructorGrantOf(request, context);
  if (!grant.ok) return grant;
  const { boards, history, links } = services();
  const about = await boards.about(grant.value.board);
  if (!about.ok) return about;
  const [hours, given] = await Promise.all([history.hours(grant.value), links.of(grant.value)]);
  return good({ ...about.value, hours, links: given.map(({ id, madeAt }) => ({ id, madeAt })) });
}
