import { answer, DONE, grantOf } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { good, type Result } from '@/lib/core/result.ts';

type Context = { params: Promise<{ board: string; link: string }> };

export const DELETE = (request: Request, context: Context): Promise<Response> =>
  answer(revoke(request, context));

async function revoke(request: Request, { params }: Context): Promise<Result<typeof DONE>> {
  const { board, link } = await params;
  const grant = await grantOf(request, board);
  if (!grant.ok) return grant;
  const revoked = await services().links.revoke(grant.value, link);
  return revoked.ok ? good(DONE) : revoked;
}
