import { answer, grantOf } from '@/app/api/_door.ts';
import { paperOf } from '@/app/api/_papers.ts';
import { mayTake } from '@/lib/access/roles.ts';
import { bad, type Result } from '@/lib/core/result.ts';
import { papers } from '@/lib/protocol/api.ts';

type Context = { params: Promise<{ board: string; paper: string }> };

export const GET = (request: Request, context: Context): Promise<Response> => answer(take(request, context));

async function take(request: Request, { params }: Context): Promise<Result<Response>> {
  const { board: id, paper: name } = await params;
  const grant = await grantOf(request, id);
  if (!grant.ok) return grant;
  const paper = papers.find((one) => one === name);
  if (!paper) return bad('not found', `There is no paper ${name}.`);
  if (!mayTake(grant.value.role, paper)) return bad('no right', 'Your link does not give this paper.');
  const asked = new URL(request.url).searchParams;
  return paperOf(grant.value, paper, {
    size: asked.get('size') === 'LETTER' ? 'LETTER' : 'A4',
    clock: asked.get('clock') === 'record' ? 'record' : 'floor',
  });
}
