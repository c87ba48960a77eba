import { randomInt } from 'node:crypto';
import { bad, good, type Result } from '../../lib/core/result.ts';
import { z } from '../../lib/core/zod.ts';
import type { Store } from '../../lib/store/store.ts';
import { seal } from './passphrase.ts';

const ACCOUNT = 'instructor';
const account = z.object({ name: z.string(), sealed: z.string() });
export type Account = z.infer<typeof account>;

/** Without letters and digits that are mistaken for each other. */
const LETTERS = 'abcdefghjkmnpqrstuvwxyz23456789';
/** Some 5 bits a letter. */
export const randomLetters = (count: number): string =>
  Array.from({ length: count }, () => LETTERS[randomInt(LETTERS.length)]).join('');

/** Null until the studio was set up. */
export async function readAccount({ settings }: Store): Promise<Account | null> {
  const text = await settings.get(ACCOUNT);
  return text === null ? null : account.parse(JSON.parse(text));
}

/** False when there is one already. */
export const addAccount = ({ settings }: Store, added: Account): Promise<boolean> =>
  settings.setOnce(ACCOUNT, written(added));

/** False, and nothing is written, where it is another by now. */
export const replaceAccount = ({ settings }: Store, before: Account, after: Account): Promise<boolean> =>
  settings.replace(ACCOUNT, written(before), written(after));

const written = ({ name, sealed }: Account): string => JSON.stringify({ name, sealed });

/**
 * A new passphrase, made here and told this once, for whoever runs the server. All who were signed in are signed out, and
 * `onSignOut` is told of each session. `name` sets up a studio that nobody has set up yet.
 */
export async function newPassphrase(
  store: Store,
  name: string | null,
  onSignOut: (session: string) => void,
): Promise<Result<string>> {
  const passphrase = Array.from({ length: 5 }, () => randomLetters(4)).join('-');
  const sealed = await seal(passphrase);
  const found = await readAccount(store);
  if (found === null && name === null)
    return bad(
      'not set up',
      'This studio is not set up yet: open its address and type in the code that the server printed, or say --name NAME.',
    );
  const isKept =
    found === null
      ? await addAccount(store, { name: name!, sealed })
      : await replaceAccount(store, found, { name: name ?? found.name, sealed });
  if (!isKept) return bad('changed meanwhile', 'Somebody changed the passphrase just now. Please try again.');
  for (const session of await store.sessions.signOutAll(null)) onSignOut(session);
  return good(passphrase);
}
