import { afterEach, describe, expect, test } from 'vitest';
import { instructorGrant } from '../../lib/access/session.ts';
import { readEnvironment } from '../../server/environment.ts';
import { askAt } from './asking.ts';
import { guest } from './guest.ts';
import { type House, invite, makeBoard, openHouse } from './house.ts';

let house: House;
afterEach(() => house.end());

const html = { accept: 'text/html' };
const https = { 'x-forwarded-proto': 'https' };
const cookies = (response: Response) => response.headers.getSetCookie();

describe('over https', () => {
  test('the cookie is of this host alone, and opens the board', async () => {
    house = await openHouse({ proxies: 1 });
    const board = await makeBoard(house);
    const made = await house.running.services.links.make(instructorGrant(board), 'dj', null);
    if (!made.ok) throw new Error(made.problem.sentence);
    const joined = await askAt(house, `/join/${made.value.token}`, { headers: { ...html, ...https } });
    expect(cookies(joined)).toEqual([
      expect.stringMatching(
        /^__Host-larkstep=[\w-]{32}; Path=\/; Max-Age=\d+; HttpOnly; SameSite=Lax; Secure$/,
      ),
    ]);
    expect(joined.headers.get('strict-transport-security')).toBe('max-age=31536000');
    const cookie = cookies(joined)[0]!.split(';')[0]!;
    const one = guest(house, { board, role: 'dj', cookie }, 'plan');
    await one.synced();
    one.leave();
    // Where both are sent, the one that no other host can have set is believed.
    const both = `larkstep=${'x'.repeat(32)}; ${cookie}`;
    expect(
      (await askAt(house, `/api/boards/${board}/papers/board.json?as=dj`, { cookie: both })).status,
    ).toBe(200);
  });

  test('a browser with the cookie of before keeps its session, by the new name', async () => {
    house = await openHouse({ proxies: 1 });
    const board = await makeBoard(house);
    const { cookie } = await invite(house, board, 'dj');
    expect(cookie).toMatch(/^larkstep=/);
    const token = cookie.split('=')[1]!;
    const visit = (sent: string, headers = {}) =>
      askAt(house, `/board/${board}?as=dj`, { cookie: sent, headers: { ...html, ...https, ...headers } });
    const [renewed, ended, ...more] = cookies(await visit(cookie));
    expect(renewed).toMatch(new RegExp(`^__Host-larkstep=${token}; Path=/; .*; Secure$`));
    expect(ended).toMatch(/^larkstep=; Path=\/; Max-Age=0; /);
    expect(more).toEqual([]);
    expect(cookies(await visit(`__Host-larkstep=${token}`))).toEqual([]);
    // The newer one stays what it is.
    expect(cookies(await visit(`__Host-larkstep=newer; ${cookie}`))).toEqual([ended]);
    // What routes answer is theirs.
    const asked = await askAt(house, '/api/sign-out', { method: 'POST', cookie, headers: https, json: {} });
    expect(cookies(asked)).toEqual([]);
  });

  test('is what a trusted proxy says, or the address that was set; a client may say what it will', async () => {
    house = await openHouse();
    const hsts = async (headers = {}) =>
      (await askAt(house, '/health', { headers })).headers.get('strict-transport-security');
    expect(await hsts()).toBeNull();
    expect(await hsts({ ...https, 'x-larkstep-secure': 'yes' })).toBeNull();
    await house.end();
    house = await openHouse({ origin: 'https://dance.example' });
    expect(await hsts()).not.toBeNull();
    await house.end();
    house = await openHouse({ proxies: 1 });
    expect(await hsts()).toBeNull();
    expect(await hsts({ 'x-forwarded-proto': 'http' })).toBeNull();
    expect(await hsts(https)).not.toBeNull();
    const response = await askAt(house, '/health');
    expect(response.headers.get('cross-origin-opener-policy')).toBe('same-origin');
  });
});

describe('metrics', () => {
  const token = 'a token of the one who runs it';
  const read = async (headers: Record<string, string> = {}) =>
    (await askAt(house, '/metrics', { headers })).status;

  test('are for programs of this computer, and not for whom a proxy asks', async () => {
    house = await openHouse({ metricsToken: null });
    expect(await read()).toBe(200);
    for (const name of ['x-forwarded-for', 'x-real-ip', 'forwarded', 'via'])
      expect(await read({ [name]: '127.0.0.1', 'x-larkstep-metrics': 'yes' }), name).toBe(403);
    expect(await read({ 'x-forwarded-for': '203.0.113.7', authorization: 'Bearer null' })).toBe(403);
  });

  test('are for whoever bears the token', async () => {
    house = await openHouse({ metricsToken: token.replaceAll(' ', '-') });
    const from = { 'x-forwarded-for': '203.0.113.7' };
    const bearing = (words: string) => read({ ...from, authorization: words });
    expect(await bearing(`Bearer ${token.replaceAll(' ', '-')}`)).toBe(200);
    for (const words of ['', 'Bearer', 'Bearer x', `Bearer ${token.replaceAll(' ', '-')}x`, `Basic ${token}`])
      expect(await bearing(words), words).toBe(403);
    expect(await read(from)).toBe(403);
  });
});

describe('settings of the door', () => {
  test('the code of the first run may be one of its own, or none', async () => {
    house = await openHouse({ setUpCode: 'Green-Door-77' });
    const setUp = (code: string) =>
      askAt(house, '/api/set-up', {
        method: 'POST',
        json: { code, name: 'Rosa', passphrase: 'a phrase that nobody guesses' },
      });
    expect((await setUp('green-door-78')).status).toBe(403);
    expect((await setUp('green-door-77 ')).status).toBe(200);
    await house.end();
    house = await openHouse({ setUpCode: null });
    for (const code of ['', 'null', 'off']) expect((await setUp(code)).status).toBe(403);
  });

  test('are read from the environment, and said in words where they are wrong', async () => {
    house = await openHouse();
    const said = (given: Record<string, string>) => {
      const read = readEnvironment(given as unknown as NodeJS.ProcessEnv);
      if (!read.ok) return read.problem.sentence;
      const { demo, setUpCode, metricsToken } = read.value;
      return { demo, setUpCode, metricsToken };
    };
    expect(said({})).toEqual({ demo: true, setUpCode: undefined, metricsToken: null });
    expect(said({ LARKSTEP_DEMO: 'off', LARKSTEP_SETUP_CODE: 'off' })).toMatchObject({
      demo: false,
      setUpCode: null,
    });
    expect(said({ LARKSTEP_SETUP_CODE: 'green-door-77' })).toMatchObject({ setUpCode: 'green-door-77' });
    expect(said({ LARKSTEP_DEMO: 'no' })).toContain('it is on or off');
    expect(said({ LARKSTEP_SETUP_CODE: 'short' })).toContain('off, or a code of your own');
    expect(said({ LARKSTEP_METRICS_TOKEN: 'short' })).toContain('at least 16 characters');
  });
});
