import { answer, DONE, tokenOf } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { good, type Result } from '@/lib/core/result.ts';

export const POST = (request: Request): Promise<Response> => answer(signOut(request));

/** Ends the instructor's session; what this browser may open by links it keeps. */
async function signOut(request: Request): Promise<Result<typeof DONE>> {
  const token = tokenOf(request);
  if (token !== null) await services().instructor.signOut(token);
  return good(DONE);
}
