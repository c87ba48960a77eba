import { grantOf, writerOf } from '@/app/api/_door.ts';
import type { Grant } from '@/lib/access/session.ts';
import { bad, type Result } from '@/lib/core/result.ts';

export type Context = { params: Promise<{ board: string }> };

/** Only an instructor looks into what a board was; one whose link was stopped from writing puts nothing right. */
export async function instructorGrantOf(request: Request, { params }: Context): Promise<Result<Grant>> {
  const asked = request.method === 'GET' ? grantOf : writerOf;
  const grant = await asked(request, (await params).board);
  if (!grant.ok || grant.value.role === 'instructor') return grant;
  return bad('no right', 'Only the instructor may look into what a board was.');
}
