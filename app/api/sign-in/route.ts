import { answer, bodyOf, peerOf, signedIn, tokenOf } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { good, type Result } from '@/lib/core/result.ts';
import { signInRequest } from '@/lib/protocol/api.ts';

export const POST = (request: Request): Promise<Response> => answer(signIn(request));

async function signIn(request: Request): Promise<Result<Response>> {
  const words = await bodyOf(request, signInRequest);
  if (!words.ok) return words;
  const token = await services().instructor.signIn(words.value.passphrase, peerOf(request), tokenOf(request));
  return token.ok ? good(signedIn(request, token.value)) : token;
}
