import { timingSafeEqual } from 'node:crypto';
import { hashOf, newToken } from '../../lib/access/links.ts';
import type { Services } from '../../lib/access/services.ts';
import { bad, good, type Result } from '../../lib/core/result.ts';
import type { Store } from '../../lib/store/store.ts';
import { addAccount, randomLetters, readAccount, replaceAccount } from './account.ts';
import { type Guesses, TOO_OFTEN } from './attempts.ts';
import { isOutdated, OneByOne, opens, seal } from './passphrase.ts';

const SET_UP_CODE = 'set-up code';
const SIGNED_IN_DAYS = 60;
/** Guesses that may wait for each other: as many as are let through at once. */
const LONGEST_LINE = 60;
/** Of browsers that were signed in before, who have a line of their own. */
const LONGEST_KNOWN_LINE = 10;

const WRONG = bad('wrong passphrase', 'That passphrase is not right.');
const ALREADY = bad('already set up', 'This studio is set up already. Please sign in.');

/** A new one at each start; of several nodes all ask for the same one, because any of them may be asked. */
export async function setUpCodeOf(store: Store, isShared: boolean): Promise<string> {
  const code = randomLetters(10);
  if (!isShared || (await store.settings.setOnce(SET_UP_CODE, code))) return code;
  return (await store.settings.get(SET_UP_CODE)) ?? code;
}

interface Needs {
  /** What the first run asks for; null where nobody may set the studio up from a browser. */
  code: string | null;
  clock: () => Date;
  guesses: Guesses;
  onSignOut: (session: string) => void;
}

export function instructorService(
  store: Store,
  { code, clock, guesses, onSignOut }: Needs,
): Services['instructor'] {
  const line = new OneByOne(LONGEST_LINE);
  const knownLine = new OneByOne(LONGEST_KNOWN_LINE);
  /** The browser by its session, when the instructor was signed in there before. */
  const knownBrowser = async (token: string | null): Promise<string | null> => {
    if (token === null) return null;
    const session = hashOf(token);
    return (await store.sessions.instructorUntil(session)) === null ? null : session;
  };
  const isSignedIn = async (session: string): Promise<boolean> => {
    const until = await store.sessions.instructorUntil(session);
    return until !== null && until > clock().toISOString();
  };
  /** Work with a passphrase in its turn, once this browser may guess. */
  const guess = async <T>(
    peer: string,
    before: string | null,
    work: () => Promise<Result<T>>,
  ): Promise<Result<T>> => {
    const known = await knownBrowser(before);
    const allowed = await guesses.take(peer, known);
    if (!allowed.ok) return allowed;
    return (await (known === null ? line : knownLine).run(work)) ?? TOO_OFTEN;
  };
  /** Always a new token: one that was there before may be known to somebody else. */
  const newSession = async (before: string | null): Promise<string> => {
    const token = newToken();
    const now = clock();
    await store.sessions.add(hashOf(token), now.toISOString());
    const until = new Date(now.getTime() + SIGNED_IN_DAYS * 86_400_000);
    await store.sessions.signIn(hashOf(token), until.toISOString());
    if (before !== null) await store.sessions.moveGrants(hashOf(before), hashOf(token));
    return token;
  };
  const enter = async (passphrase: string, before: string | null): Promise<Result<string>> => {
    const found = await readAccount(store);
    if (!found || !(await opens(passphrase, found.sealed))) return WRONG;
    const token = await newSession(before);
    // Whoever changed it meanwhile ended all sessions there were, and may have missed this one.
    if ((await readAccount(store))?.sealed !== found.sealed) {
      await store.sessions.signOut(hashOf(token));
      return enter(passphrase, token);
    }
    if (isOutdated(found.sealed))
      await replaceAccount(store, found, { ...found, sealed: await seal(passphrase) });
    return good(token);
  };
  const signOutAll = async (except: string): Promise<void> => {
    for (const session of await store.sessions.signOutAll(except)) onSignOut(session);
  };
  return {
    exists: async () => (await readAccount(store)) !== null,
    setUp: (words, peer, before) =>
      guess(peer, before, async () => {
        if (await readAccount(store)) return ALREADY;
        if (code === null)
          return bad('no right', 'This studio is set up by whoever runs the server, from its own computer.');
        if (
          !timingSafeEqual(
            Buffer.from(hashOf(words.code.trim().toLowerCase())),
            Buffer.from(hashOf(code.toLowerCase())),
          )
        )
          return bad('wrong code', 'That is not the code that the server printed when it started.');
        const made = { name: words.name, sealed: await seal(words.passphrase) };
        return (await addAccount(store, made)) ? good(await newSession(before)) : ALREADY;
      }),
    signIn: (passphrase, peer, before) => guess(peer, before, () => enter(passphrase, before)),
    changePassphrase: async (token, { old, passphrase }, peer) => {
      const session = hashOf(token);
      if (!(await isSignedIn(session))) return bad('not signed in', 'Please sign in first.');
      return guess(peer, token, async () => {
        const found = await readAccount(store);
        if (!found || !(await opens(old, found.sealed)))
          return bad('wrong passphrase', 'Your passphrase until now is not right.');
        if (!(await replaceAccount(store, found, { ...found, sealed: await seal(passphrase) })))
          return bad('changed meanwhile', 'The passphrase was changed elsewhere just now.');
        await signOutAll(session);
        return good(undefined);
      });
    },
    async signOutElsewhere(token) {
      const session = hashOf(token);
      if (!(await isSignedIn(session))) return bad('not signed in', 'Please sign in first.');
      await signOutAll(session);
      return good(undefined);
    },
    async signOut(token) {
      await store.sessions.signOut(hashOf(token));
      onSignOut(hashOf(token));
    },
    async of(token) {
      if (token === null || !(await isSignedIn(hashOf(token))))
        return bad('not signed in', 'Please sign in first.');
      return good((await readAccount(store))?.name ?? '');
    },
  };
}
