import { answer, bodyOf } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import type { Result } from '@/lib/core/result.ts';
import { takeBackRequest } from '@/lib/protocol/api.ts';
import { type Context, instructorGrantOf } from '../_instructor.ts';

export const POST = (request: Request, context: Context): Promise<Response> =>
  answer(takeBack(request, context));

async function takeBack(
  request: Request,
  context: Context,
): Promise<Result<{ undone: number; left: string[] }>> {
  const grant = await instructorGrantOf(request, context);
  if (!grant.ok) return grant;
  const asked = await bodyOf(request, takeBackRequest);
  return asked.ok ? services().history.takeBack(grant.value, asked.value.link, asked.value.since) : asked;
}
