import { answer, bodyOf, DONE, grantOf } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { bad, good, type Result } from '@/lib/core/result.ts';
import { freezeRequest, madeWith } from '@/lib/protocol/api.ts';

type Context = { params: Promise<{ board: string; link: string }> };

export const DELETE = (request: Request, context: Context): Promise<Response> =>
  answer(revoke(request, context));
export const PUT = (request: Request, context: Context): Promise<Response> =>
  answer(freeze(request, context));

async function revoke(request: Request, { params }: Context): Promise<Result<typeof DONE>> {
  const { board, link } = await params;
  const grant = await grantOf(request, board);
  if (!grant.ok) return grant;
  const others = madeWith.safeParse(new URL(request.url).searchParams.get('madeWith') ?? 'end');
  if (!others.success) return bad('malformed', 'Say madeWith=end or madeWith=keep.');
  const revoked = await services().links.revoke(grant.value, link, others.data);
  return revoked.ok ? good(DONE) : revoked;
}

async function freeze(request: Request, { params }: Context): Promise<Result<typeof DONE>> {
  const { board, link } = await params;
  const grant = await grantOf(request, board);
  if (!grant.ok) return grant;
  const wanted = await bodyOf(request, freezeRequest);
  if (!wanted.ok) return wanted;
  const frozen = await services().links.freeze(grant.value, link, wanted.value.frozen);
  return frozen.ok ? good(DONE) : frozen;
}
