import { answer, bodyOf, DONE, peerOf, tokenOf } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { bad, good, type Result } from '@/lib/core/result.ts';
import { newPassphraseRequest } from '@/lib/protocol/api.ts';

export const POST = (request: Request): Promise<Response> => answer(change(request));

async function change(request: Request): Promise<Result<typeof DONE>> {
  const token = tokenOf(request);
  if (token === null) return bad('not signed in', 'Please sign in first.');
  const words = await bodyOf(request, newPassphraseRequest);
  if (!words.ok) return words;
  const changed = await services().instructor.changePassphrase(token, words.value, peerOf(request));
  return changed.ok ? good(DONE) : changed;
}
