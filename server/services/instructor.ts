import { randomInt, timingSafeEqual } from 'node:crypto';
import { hashOf, newToken } from '../../lib/access/links.ts';
import type { Services } from '../../lib/access/services.ts';
import { bad, good, type Result } from '../../lib/core/result.ts';
import { z } from '../../lib/core/zod.ts';
import type { AttemptTable, Store } from '../../lib/store/store.ts';
import { Guesses } from './attempts.ts';
import { opens, seal } from './passphrase.ts';

const ACCOUNT = 'instructor';
const SET_UP_CODE = 'set-up code';
const account = z.object({ name: z.string(), sealed: z.string() });
const SIGNED_IN_DAYS = 60;

/** Without letters and digits that are mistaken for each other. */
const LETTERS = 'abcdefghjkmnpqrstuvwxyz23456789';
const newSetUpCode = (): string =>
  Array.from({ length: 10 }, () => LETTERS[randomInt(LETTERS.length)]).join('');

/** A new one at each start; of several nodes all ask for the same one, because any of them may be asked. */
export async function setUpCodeOf(store: Store, isShared: boolean): Promise<string> {
  const code = newSetUpCode();
  if (!isShared || (await store.settings.setOnce(SET_UP_CODE, code))) return code;
  return (await store.settings.get(SET_UP_CODE)) ?? code;
}

export function instructorService(
  store: Store,
  code: string,
  clock: () => Date,
  onSignOut: (session: string) => void,
  attempts?: AttemptTable,
): Services['instructor'] {
  const guesses = new Guesses(() => clock().getTime(), undefined, attempts);
  /** The browser by its session, when the instructor was signed in there before. */
  const knownBrowser = async (token: string | null): Promise<string | null> => {
    if (token === null) return null;
    const session = hashOf(token);
    return (await store.sessions.instructorUntil(session)) === null ? null : session;
  };
  const read = async () => {
    const text = await store.settings.get(ACCOUNT);
    return text === null ? null : account.parse(JSON.parse(text));
  };
  /** Always a new token: one that was there before may be known to somebody else. */
  const newSession = async (before: string | null): Promise<Result<string>> => {
    const token = newToken();
    const now = clock();
    await store.sessions.add(hashOf(token), now.toISOString());
    const until = new Date(now.getTime() + SIGNED_IN_DAYS * 86_400_000);
    await store.sessions.signIn(hashOf(token), until.toISOString());
    if (before !== null) await store.sessions.moveGrants(hashOf(before), hashOf(token));
    return good(token);
  };
  return {
    exists: async () => (await read()) !== null,
    async setUp(words, peer, before) {
      const allowed = await guesses.take(peer, null);
      if (!allowed.ok) return allowed;
      if (await read()) return bad('already set up', 'This studio is set up already. Please sign in.');
      if (!timingSafeEqual(Buffer.from(hashOf(words.code.trim().toLowerCase())), Buffer.from(hashOf(code))))
        return bad('wrong code', 'That is not the code that the server printed when it started.');
      const made = JSON.stringify({ name: words.name, sealed: await seal(words.passphrase) });
      if (!(await store.settings.setOnce(ACCOUNT, made)))
        return bad('already set up', 'This studio is set up already. Please sign in.');
      return newSession(before);
    },
    async signIn(passphrase, peer, before) {
      const allowed = await guesses.take(peer, await knownBrowser(before));
      if (!allowed.ok) return allowed;
      const found = await read();
      if (!found || !(await opens(passphrase, found.sealed)))
        return bad('wrong passphrase', 'That passphrase is not right.');
      return newSession(before);
    },
    async signOut(token) {
      await store.sessions.signOut(hashOf(token));
      onSignOut(hashOf(token));
    },
    async of(token) {
      const until = token === null ? null : await store.sessions.instructorUntil(hashOf(token));
      if (until === null || until <= clock().toISOString())
        return bad('not signed in', 'Please sign in first.');
      return good((await read())?.name ?? '');
    },
  };
}
