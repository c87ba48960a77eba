import { answer, DONE, tokenOf } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { bad, good, type Result } from '@/lib/core/result.ts';

export const POST = (request: Request): Promise<Response> => answer(signOut(request));

/** Ends the instructor's sessions in all browsers but this one. */
async function signOut(request: Request): Promise<Result<typeof DONE>> {
  const token = tokenOf(request);
  if (token === null) return bad('not signed in', 'Please sign in first.');
  const ended = await services().instructor.signOutElsewhere(token);
  return ended.ok ? good(DONE) : ended;
}
