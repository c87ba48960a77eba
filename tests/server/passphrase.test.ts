import { scryptSync } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { openEmbeddedStore } from '../../lib/store/embedded/open.ts';
import { isOutdated, OneByOne, opens, seal } from '../../server/services/passphrase.ts';
import { askAt, setUpStudio } from './asking.ts';
import { guest } from './guest.ts';
import { type House, makeBoard, openHouse } from './house.ts';

describe('a sealed passphrase', () => {
  test('names the cost it took, opens by its words however they are typed, and by no others', async () => {
    const sealed = await seal('Blue dóor, long road');
    expect(sealed).toMatch(/^\$scrypt\$ln=17,r=8,p=1\$[\w+/]{22}\$[\w+/]{43}$/);
    expect(isOutdated(sealed)).toBe(false);
    expect(await opens('Blue dóor, long road', sealed)).toBe(true);
    expect(await opens('blue dóor, long road', sealed)).toBe(false);
    expect(await seal('Blue dóor, long road')).not.toBe(sealed);
  });

  test('from before opens at its own cost', async () => {
    expect(isOutdated(sealedBefore('an old phrase'))).toBe(true);
    expect(await opens('an old phrase', sealedBefore('an old phrase'))).toBe(true);
    expect(await opens('another phrase', sealedBefore('an old phrase'))).toBe(false);
  });

  test('that asks for more memory than a server has, or is none, is not tried', async () => {
    for (const odd of ['', 'a.b', '$scrypt$ln=31,r=8,p=1$AAAA$AAAA', '$scrypt$ln=17,r=8,p=1$AAAA$AAAA'])
      await expect(opens('a', odd)).rejects.toThrow('cannot be read');
  });

  test('is worked on one at a time, and a full line turns away', async () => {
    const line = new OneByOne(3);
    let now = 0;
    let most = 0;
    const work = async () => {
      most = Math.max(most, ++now);
      await new Promise((resolve) => setImmediate(resolve));
      now -= 1;
      return 'done';
    };
    const failing = line.run(async () => Promise.reject(new Error('odd')));
    const done = await Promise.all([
      failing.catch(() => 'failed'),
      ...Array.from({ length: 4 }, () => line.run(work)),
    ]);
    expect(done).toEqual(['failed', 'done', 'done', null, null]);
    expect(most).toBe(1);
    expect(await line.run(work)).toBe('done');
  });
});

/** As versions before kept it: scrypt with N = 2^15, salt and key in base64url. */
function sealedBefore(passphrase: string): string {
  const salt = Buffer.from('sixteen bytes...');
  const key = scryptSync(passphrase, salt, 32, { N: 2 ** 15, r: 8, p: 1, maxmem: 2 ** 26 });
  return `${salt.toString('base64url')}.${key.toString('base64url')}`;
}

describe("the studio's door", () => {
  const first = 'a phrase that nobody guesses';
  const second = 'a phrase of another day';
  let house: House;
  beforeEach(async () => {
    house = await openHouse();
  });
  afterEach(() => house.end());

  const signIn = (passphrase: string) =>
    askAt(house, '/api/sign-in', { method: 'POST', json: { passphrase } });
  const signedIn = async (passphrase: string) =>
    (await signIn(passphrase)).headers.get('set-cookie')!.split(';')[0]!;
  const mayList = async (cookie: string) => (await askAt(house, '/api/boards', { cookie })).status === 200;
  const change = (cookie: string | undefined, old: string, passphrase: string) =>
    askAt(house, '/api/passphrase', { method: 'POST', cookie, json: { old, passphrase } });

  test('a new passphrase takes the place of the old one, and signs all others out', async () => {
    const here = await setUpStudio(house, first);
    const elsewhere = await signedIn(first);
    const board = await makeBoard(house);
    const other = guest(house, { board, role: 'instructor', cookie: elsewhere }, 'plan');
    const own = guest(house, { board, role: 'instructor', cookie: here }, 'plan');
    await Promise.all([other.synced(), own.synced()]);
    expect((await change(here, second, second)).status).toBe(401);
    expect((await change(undefined, first, second)).status).toBe(401);
    expect((await change(here, first, 'short')).status).toBe(400);
    expect([await mayList(here), await mayList(elsewhere)]).toEqual([true, true]);
    expect((await change(here, first, second)).status).toBe(200);
    expect(await other.closed).toBe(4410);
    expect([await mayList(here), await mayList(elsewhere)]).toEqual([true, false]);
    expect((await signIn(first)).status).toBe(401);
    expect((await signIn(second)).status).toBe(200);
    // Who is signed out changes nothing, though they know the passphrase.
    expect((await change(elsewhere, second, first)).status).toBe(401);
    own.leave();
    other.leave();
  });

  test('the old passphrase may be guessed no oftener here than at signing in', async () => {
    const cookie = await setUpStudio(house, first);
    // All at once: on a busy machine one after the other would take longer than a guess is held against somebody.
    const guesses = await Promise.all(
      Array.from({ length: 6 }, (_, n) => change(cookie, `guess ${n}`, second)),
    );
    const statuses = guesses.map(({ status }) => status).sort();
    expect(statuses).toEqual([401, 401, 401, 401, 401, 429]);
  });

  test('signing out everywhere else ends all sessions but this one', async () => {
    const here = await setUpStudio(house, first);
    const others = [await signedIn(first), await signedIn(first)];
    const out = (cookie?: string) =>
      askAt(house, '/api/sign-out/elsewhere', { method: 'POST', cookie, json: {} });
    expect((await out()).status).toBe(401);
    expect((await out(here)).status).toBe(200);
    expect(await Promise.all([here, ...others].map(mayList))).toEqual([true, false, false]);
    expect((await out(others[0])).status).toBe(401);
  });

  test('a seal from before is opened, and made anew when somebody signs in', async () => {
    await house.running.services.settings.set(
      'instructor',
      JSON.stringify({ name: 'Rosa', sealed: sealedBefore(first) }),
    );
    expect((await signIn(`${first}x`)).status).toBe(401);
    const kept = async () =>
      (JSON.parse((await house.running.services.settings.get('instructor'))!) as { sealed: string }).sealed;
    expect(isOutdated(await kept())).toBe(true);
    expect((await Promise.all([signIn(first), signIn(first)])).map(({ status }) => status)).toEqual([
      200, 200,
    ]);
    expect(await kept()).toMatch(/^\$scrypt\$ln=17/);
    expect((await signIn(first)).status).toBe(200);
  });

  test('a clock that is set back or forth by hours locks nobody out', async () => {
    await setUpStudio(house, first);
    for (const hours of [-1, 24 * 365, -24 * 366]) {
      house.setClock(hours * 3_600_000);
      house.later(60_000);
      const cookie = await signedIn(first);
      expect(await mayList(cookie), `${hours} hours`).toBe(true);
      // Nor does it let anybody guess more often.
      house.setClock(hours * 3_600_000);
      const guesses = await Promise.all(Array.from({ length: 7 }, (_, n) => signIn(`guess ${n}`)));
      expect(guesses.filter(({ status }) => status === 429).length, `${hours} hours`).toBeGreaterThan(0);
      expect(guesses.every(({ status }) => status === 401 || status === 429)).toBe(true);
    }
  });

  test('without a code nobody sets the studio up from a browser; from the shell it is set up', async () => {
    const { newPassphrase } = await import('../../server/services/account.ts');
    await house.running.stop();
    const store = await openEmbeddedStore(house.folder);
    expect((await newPassphrase(store, null, () => {})).ok).toBe(false);
    const made = await newPassphrase(store, 'Rosa', () => {});
    await store.close();
    await house.start();
    if (!made.ok) throw new Error(made.problem.sentence);
    expect(made.value).toMatch(/^([a-z2-9]{4}-){4}[a-z2-9]{4}$/);
    expect(await mayList(await signedIn(made.value))).toBe(true);
  });
});
