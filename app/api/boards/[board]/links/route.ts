import { answer, bodyOf, grantOf, originOf } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { good, type Result } from '@/lib/core/result.ts';
import { type LinkSummary, newLinkRequest } from '@/lib/protocol/api.ts';

type Context = { params: Promise<{ board: string }> };

export const GET = (request: Request, context: Context): Promise<Response> => answer(list(request, context));
export const POST = (request: Request, context: Context): Promise<Response> => answer(make(request, context));

async function list(request: Request, { params }: Context): Promise<Result<{ links: LinkSummary[] }>> {
  const grant = await grantOf(request, (await params).board);
  return grant.ok ? good({ links: await services().links.of(grant.value) }) : grant;
}

async function make(request: Request, { params }: Context): Promise<Result<{ id: string; url: string }>> {
  const grant = await grantOf(request, (await params).board);
  if (!grant.ok) return grant;
  const wanted = await bodyOf(request, newLinkRequest);
  if (!wanted.ok) return wanted;
  const made = await services().links.make(grant.value, wanted.value.role, wanted.value.days);
  if (!made.ok) return made;
  return good({ id: made.value.id, url: `${originOf(request)}/join/${made.value.token}` });
}
