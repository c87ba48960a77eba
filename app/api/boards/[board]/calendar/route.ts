import { answer, grantOf, originOf } from '@/app/api/_door.ts';
import { maySubscribe } from '@/lib/access/roles.ts';
import { services } from '@/lib/access/services.ts';
import { bad, good, type Result } from '@/lib/core/result.ts';

type Context = { params: Promise<{ board: string }> };

export const POST = (request: Request, context: Context): Promise<Response> => answer(make(request, context));

async function make(request: Request, { params }: Context): Promise<Result<{ url: string }>> {
  const grant = await grantOf(request, (await params).board);
  if (!grant.ok) return grant;
  if (!maySubscribe(grant.value.role)) return bad('no right', 'Your link gives no calendar address.');
  const token = await services().calendar.make(grant.value);
  return good({ url: `${originOf(request)}/calendar/${token}.ics` });
}
