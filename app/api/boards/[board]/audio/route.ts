import { answer, writerOf } from '@/app/api/_door.ts';
import { mayUpload } from '@/lib/access/roles.ts';
import { services } from '@/lib/access/services.ts';
import { bad, type Result } from '@/lib/core/result.ts';

type Context = { params: Promise<{ board: string }> };

export const POST = (request: Request, context: Context): Promise<Response> =>
  answer(upload(request, context));

async function upload(request: Request, { params }: Context): Promise<Result<{ id: string; bytes: number }>> {
  const grant = await writerOf(request, (await params).board);
  if (!grant.ok) return grant;
  if (!mayUpload(grant.value.role)) return bad('no right', 'Your link may not add a recording.');
  if (request.body === null) return bad('not audio', 'This file is empty.');
  return services().audio.keep(grant.value.board, request.body);
}
