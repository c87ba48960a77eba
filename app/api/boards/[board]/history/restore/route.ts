import { answer, bodyOf, DONE } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { good, type Result } from '@/lib/core/result.ts';
import { restoreRequest } from '@/lib/protocol/api.ts';
import { type Context, instructorGrantOf } from '../_instructor.ts';

export const POST = (request: Request, context: Context): Promise<Response> =>
  answer(restore(request, context));

async function restore(request: Request, context: Context): Promise<Result<typeof DONE>> {
  const grant = await instructorGrantOf(request, context);
  if (!grant.ok) return grant;
  const asked = await bodyOf(request, restoreRequest);
  if (!asked.ok) return asked;
  const done = await services().history.restore(grant.value, asked.value.area, asked.value.at);
  return done.ok ? good(DONE) : done;
}
