import { createHash, randomBytes } from 'node:crypto';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { mayTake } from '../../lib/access/roles.ts';
import { instructorGrant } from '../../lib/access/session.ts';
import type { Board } from '../../lib/core/areas/board.ts';
import type { Role } from '../../lib/core/areas/people.ts';
import type { z } from '../../lib/core/zod.ts';
import {
  audioAnswer,
  boardsAnswer,
  calendarAnswer,
  done,
  linksAnswer,
  newBoardAnswer,
  newLinkAnswer,
  studioMoves,
} from '../../lib/protocol/api.ts';
import { closings } from '../../lib/protocol/close.ts';
import { problemBody } from '../../lib/protocol/problem.ts';
import { readExposition } from './exposition.ts';
import { guest } from './guest.ts';
import { type House, invite, makeBoard, openHouse } from './house.ts';

let house: House;
let board: string;
beforeAll(async () => {
  house = await openHouse();
  board = await makeBoard(house);
});
afterAll(() => house.end());

interface Asked {
  method?: string;
  cookie?: string;
  json?: unknown;
  body?: Uint8Array;
  headers?: Record<string, string>;
}
function ask(
  path: string,
  { method = 'GET', cookie, json, body, headers = {} }: Asked = {},
): Promise<Response> {
  return fetch(house.address + path, {
    method,
    redirect: 'manual',
    headers: { ...headers, ...(cookie ? { cookie } : {}) },
    body: json === undefined ? (body as BodyInit | undefined) : JSON.stringify(json),
  });
}
const cookieOf = (response: Response) => response.headers.get('set-cookie')?.split(';')[0] ?? '';
const codeOf = async (response: Response) => problemBody.parse(await response.json()).code;
/** The answer, held against the shape that pages rely on. */
const said = async <S extends z.ZodType>(response: Response, shape: S): Promise<z.infer<S>> =>
  shape.parse(await response.json());

/** A second of silence as 16-bit WAV (RIFF WAVE, the canonical 44-byte header). */
function wav(): Uint8Array {
  const samples = 8000;
  const file = Buffer.alloc(44 + samples * 2);
  file.write('RIFF', 0);
  file.writeUInt32LE(36 + samples * 2, 4);
  file.write('WAVEfmt ', 8);
  for (const [at, value] of [
    [16, 16],
    [24, samples],
    [28, samples * 2],
  ] as const)
    file.writeUInt32LE(value, at);
  for (const [at, value] of [
    [20, 1],
    [22, 1],
    [32, 2],
    [34, 16],
  ] as const)
    file.writeUInt16LE(value, at);
  file.write('data', 36);
  file.writeUInt32LE(samples * 2, 40);
  return new Uint8Array(file);
}

describe('joining by a link', () => {
  test("a person gets a cookie that no script reads and is led to the role's page", async () => {
    const { token, cookie } = await invite(house, board, 'dj');
    const response = await ask(`/join/${token}`, { headers: { accept: 'text/html,*/*' }, cookie });
    expect(response.status).toBe(303);
    expect(response.headers.get('location')).toBe(`/board/${board}?as=dj`);
    expect(response.headers.get('set-cookie')).toMatch(
      /^larkstep=[\w-]{32}; Path=\/; Max-Age=\d+; HttpOnly; SameSite=Lax$/,
    );
    expect(response.headers.get('cache-control')).toBe('no-store');
    expect(response.headers.get('referrer-policy')).toBe('no-referrer');
    expect(cookieOf(response)).toBe(cookie);
  });

  test('a preview of the link changes nothing', async () => {
    const { token } = await invite(house, board, 'dj');
    const browsers = async () =>
      (await house.running.services.links.of(instructorGrant(board))).map(({ browsers: count }) => count);
    const before = await browsers();
    for (const asked of [{ method: 'HEAD' }, { headers: { accept: 'image/*' } }]) {
      const response = await ask(`/join/${token}`, asked);
      expect(response.headers.get('set-cookie')).toBeNull();
      expect(response.headers.get('cache-control')).toBe('no-store');
    }
    expect(await browsers()).toEqual(before);
  });

  test('a second link adds its role and keeps the first', async () => {
    const dj = await invite(house, board, 'dj');
    const planner = await invite(house, board, 'planner');
    const response = await ask(`/join/${planner.token}`, {
      headers: { accept: 'text/html' },
      cookie: dj.cookie,
    });
    const held = await house.running.services.grants.all(cookieOf(response).split('=')[1]!);
    expect(held.map(({ role }) => role).sort()).toEqual(['dj', 'planner']);
  });

  test('a link that has ended, was taken back or never was leads to the front page with the reason', async () => {
    const short = await invite(house, board, 'dj', 1);
    house.later(86_400_000);
    for (const [token, why] of [
      [short.token, 'ended'],
      ['x'.repeat(32), 'ended'],
    ] as const) {
      const response = await ask(`/join/${token}`, { headers: { accept: 'text/html' } });
      expect(response.headers.get('location')).toBe(`/?why=${why}`);
      expect(response.headers.get('set-cookie')).toBeNull();
    }
    expect(await codeOf(await ask(`/api/boards/${board}/links?as=dj`, { cookie: short.cookie }))).toBe(
      'ended',
    );
    const late = guest(house, { board, role: 'dj', cookie: short.cookie }, 'plan');
    expect(await late.closed).toBe(closings.ended.code);
    late.leave();
  });

  test('no token is in anything logged', async () => {
    const { token } = await invite(house, board, 'dj');
    expect(house.logged.join('\n')).not.toContain(token);
  });
});

describe('links', () => {
  test('the couple invite those of the evening, but neither the instructor nor another couple', async () => {
    const { cookie } = await invite(house, board, 'couple');
    const make = (role: string) =>
      ask(`/api/boards/${board}/links?as=couple`, { method: 'POST', cookie, json: { role, days: 30 } });
    for (const role of ['dj', 'planner', 'crew']) {
      const made = await said(await make(role), newLinkAnswer);
      expect(made.url).toMatch(new RegExp(`^${house.address}/join/[\\w-]{32}$`));
    }
    for (const role of ['instructor', 'couple']) expect((await make(role)).status).toBe(403);
    const listed = await ask(`/api/boards/${board}/links?as=couple`, { cookie });
    const { links } = await said(listed, linksAnswer);
    expect(new Set(links.map(({ role }) => role))).toEqual(new Set(['dj', 'planner', 'crew']));
  });

  test('the DJ invites nobody and ends no link', async () => {
    const { cookie, id } = await invite(house, board, 'dj');
    const asked = { method: 'POST', cookie, json: { role: 'crew', days: null } };
    expect((await ask(`/api/boards/${board}/links?as=dj`, asked)).status).toBe(403);
    const ended = await ask(`/api/boards/${board}/links/${id}?as=dj`, { method: 'DELETE', cookie });
    expect(ended.status).toBe(403);
  });
});

describe('the studio', () => {
  const passphrase = 'a phrase that nobody guesses';
  let cookie = '';

  test('is set up once, with the code from the console', async () => {
    const json = { code: 'not-it', name: 'Rosa', passphrase };
    expect(await codeOf(await ask('/api/set-up', { method: 'POST', json }))).toBe('wrong code');
    const right = { ...json, code: house.running.setUpCode };
    const response = await ask('/api/set-up', { method: 'POST', json: right });
    expect(response.status).toBe(200);
    cookie = cookieOf(response);
    expect((await ask('/api/set-up', { method: 'POST', json: right })).status).toBe(409);
  });

  test('shows couples by date to the instructor only, as the plan says now', async () => {
    const made = await ask('/api/boards', {
      method: 'POST',
      cookie,
      json: { one: 'Ava', other: 'Noor', date: '2030-01-02', venue: '' },
    });
    const { id } = await said(made, newBoardAnswer);
    const list = async () => (await said(await ask('/api/boards', { cookie }), boardsAnswer)).boards;
    expect((await list())[0]).toMatchObject({ id, one: 'Ava', other: 'Noor', date: '2030-01-02', song: [] });
    const couple = guest(
      house,
      { board: id, role: 'couple', cookie: (await invite(house, id, 'couple')).cookie },
      'plan',
    );
    await couple.synced();
    couple.write({ register: 'date', value: '2033-01-02' });
    const words = { artist: 'The Harbour Lamps', title: 'שיר הנמל', version: '', source: '' };
    couple.write({ register: 'recordingWords', value: words });
    await couple.acknowledged(3);
    // One each: what runs from the right does so alone.
    const song = [words.artist, words.title];
    expect((await list()).at(-1)).toMatchObject({ id, date: '2033-01-02', song });
    couple.leave();
    expect((await ask('/api/boards')).status).toBe(401);
  });

  test('keeps its own moves', async () => {
    const stored = await ask('/api/moves', { method: 'PUT', cookie, json: { moves: [] } });
    expect(stored.status).toBe(200);
    expect(await said(await ask('/api/moves', { cookie }), studioMoves)).toEqual({ moves: [] });
    const wrong = await ask('/api/moves', { method: 'PUT', cookie, json: { moves: [{ id: 'x' }] } });
    expect(wrong.status).toBe(400);
    expect((await ask('/api/moves')).status).toBe(401);
  });

  test('signing out closes what the instructor had open', async () => {
    const open = guest(house, { board, role: 'instructor', cookie }, 'plan');
    await open.synced();
    await said(await ask('/api/sign-out', { method: 'POST', cookie }), done);
    expect(await open.closed).toBe(closings.ended.code);
    open.leave();
    expect((await ask('/api/boards', { cookie })).status).toBe(401);
  });

  test('takes the passphrase, and not many wrong ones', async () => {
    house.later(3_600_000);
    const signIn = (words: string) => ask('/api/sign-in', { method: 'POST', json: { passphrase: words } });
    // All at once: on a busy machine one after the other would take longer than a guess is held against somebody.
    const guesses = await Promise.all(Array.from({ length: 6 }, (_, guess) => signIn(`guess ${guess}`)));
    expect(guesses.map(({ status }) => status).sort()).toEqual([401, 401, 401, 401, 401, 429]);
    house.later(60_000);
    expect((await signIn(passphrase)).status).toBe(200);
  });

  test('who signs in keeps what links had opened in this browser, under a new token', async () => {
    house.later(3_600_000);
    const { cookie: dj } = await invite(house, board, 'dj');
    const links = (cookie: string) => ask(`/api/boards/${board}/papers/board.json?as=dj`, { cookie });
    expect((await links(dj)).status).toBe(200);
    const signed = await ask('/api/sign-in', { method: 'POST', cookie: dj, json: { passphrase } });
    const now = cookieOf(signed);
    expect(now).not.toBe(dj);
    expect((await links(now)).status).toBe(200);
    expect((await ask('/api/boards', { cookie: now })).status).toBe(200);
    expect((await ask('/api/boards', { cookie: dj })).status).toBe(401);
  });

  test('keeps no more of a request than words can be, signed in or not', async () => {
    const json = { passphrase: 'a'.repeat(2_000_000) };
    const answered = await ask('/api/sign-in', { method: 'POST', json });
    expect(answered.status).toBe(413);
    expect(await codeOf(answered)).toBe('too large');
  });

  test("another site can ask for nothing in a browser's name", async () => {
    const response = await ask('/api/boards', {
      method: 'POST',
      cookie,
      json: {},
      headers: { origin: 'https://elsewhere.example' },
    });
    expect(await codeOf(response)).toBe('other origin');
  });
});

describe('recordings', () => {
  const upload = (cookie: string, role: string, body: Uint8Array) =>
    ask(`/api/boards/${board}/audio?as=${role}`, { method: 'POST', cookie, body });

  test('are kept by the digest of their bytes and given to members of the board, in parts too', async () => {
    const { cookie } = await invite(house, board, 'couple');
    const file = wav();
    const id = createHash('sha256').update(file).digest('hex');
    expect(await said(await upload(cookie, 'couple', file), audioAnswer)).toEqual({ id, bytes: file.length });
    const dj = (await invite(house, board, 'dj')).cookie;
    const path = `/api/boards/${board}/audio/${id}?as=dj`;
    const whole = await ask(path, { cookie: dj });
    expect(whole.headers.get('content-type')).toBe('audio/wav');
    expect(new Uint8Array(await whole.arrayBuffer())).toEqual(file);
    // RFC 9110, section 14.1.2: first to last, to the end, and the last bytes.
    for (const [range, from, to] of [
      ['bytes=0-43', 0, 43],
      ['bytes=100-', 100, file.length - 1],
      ['bytes=-10', file.length - 10, file.length - 1],
    ] as const) {
      const part = await ask(path, { cookie: dj, headers: { range } });
      expect(part.status).toBe(206);
      expect(part.headers.get('content-range')).toBe(`bytes ${from}-${to}/${file.length}`);
      expect(new Uint8Array(await part.arrayBuffer())).toEqual(file.slice(from, to + 1));
    }
    expect((await ask(path, { cookie: dj, headers: { range: `bytes=${file.length}-` } })).status).toBe(416);
    const other = await makeBoard(house);
    const stranger = (await invite(house, other, 'couple')).cookie;
    expect((await ask(`/api/boards/${other}/audio/${id}?as=couple`, { cookie: stranger })).status).toBe(404);
    expect((await ask(path, { cookie: stranger })).status).toBe(401);
  });

  test('the DJ adds none', async () => {
    const { cookie } = await invite(house, board, 'dj');
    expect((await upload(cookie, 'dj', wav())).status).toBe(403);
  });

  test('what is no recording is refused in words, and nothing of it is kept', async () => {
    const { cookie } = await invite(house, board, 'couple');
    const files = async () => (await readdir(join(house.folder, 'files'))).sort();
    const before = await files();
    const film = Buffer.concat([Buffer.from('1a45dfa3', 'hex'), randomBytes(2000)]);
    for (const body of [new TextEncoder().encode('Dear DJ, please play this'), film, new Uint8Array(0)]) {
      const refused = await upload(cookie, 'couple', body);
      expect(refused.status).toBe(415);
      expect((await said(refused, problemBody)).sentence).toMatch(/^This .*\.$/);
    }
    expect(await files()).toEqual(before);
  });

  test('go with the last board that has them', async () => {
    const other = await makeBoard(house);
    const { cookie } = await invite(house, other, 'couple');
    const file = Buffer.concat([wav(), Buffer.from('different')]);
    const kept = await ask(`/api/boards/${other}/audio?as=couple`, { method: 'POST', cookie, body: file });
    const { id } = await said(kept, audioAnswer);
    const files = () => readdir(join(house.folder, 'files'));
    expect(await files()).toContain(id);
    const instructor = (await invite(house, other, 'instructor')).cookie;
    const refused = await ask(`/api/boards/${other}?as=couple`, { method: 'DELETE', cookie });
    expect(refused.status).toBe(403);
    await ask(`/api/boards/${other}?as=instructor`, { method: 'DELETE', cookie: instructor });
    expect(await files()).not.toContain(id);
  });
});

describe('papers', () => {
  test('are for those whom they concern, and hold what those may read', async () => {
    const take = async (role: Role, paper: string) => {
      const { cookie } = await invite(house, board, role);
      return ask(`/api/boards/${board}/papers/${paper}?as=${role}`, { cookie });
    };
    for (const role of ['instructor', 'couple', 'dj', 'planner', 'crew'] as const)
      for (const paper of ['dj.pdf', 'couple.pdf', 'planner.csv', 'moves.vtt'] as const)
        expect([role, paper, (await take(role, paper)).status === 403]).toEqual([
          role,
          paper,
          !mayTake(role, paper),
        ]);
    const json = await take('dj', 'board.json');
    expect(json.headers.get('content-disposition')).toMatch(
      /^attachment; filename="board\.json"; filename\*=UTF-8''Ida%20and%20[^;]+\.json$/,
    );
    const { plan, lessons } = (await json.json()) as Board;
    expect([plan.couple?.one.name, lessons]).toEqual(['Ida', null]);
    const csv = await take('planner', 'planner.csv');
    expect(csv.headers.get('content-type')).toMatch(/^text\/csv/);
    const pdf = await take('planner', 'planner.pdf');
    expect((await pdf.text()).slice(0, 5)).toBe('%PDF-');
    // Without a song there is nothing to play, and that is said.
    expect(await codeOf(await take('dj', 'dj.pdf'))).toBe('no-song');
    // Without a start there is nothing to put into a calendar, and that is said.
    expect(await codeOf(await take('planner', 'planner.ics'))).toBe('no-time');
    expect((await take('planner', 'everything.zip')).status).toBe(404);
  });
});

test('the calendar address is made anew each time, and ends with the link', async () => {
  const planner = await invite(house, board, 'planner');
  const make = async () => {
    const made = await ask(`/api/boards/${board}/calendar?as=planner`, {
      method: 'POST',
      cookie: planner.cookie,
    });
    return /\/calendar\/([\w-]{32})\.ics$/.exec((await said(made, calendarAnswer)).url)![1]!;
  };
  const [first, second] = [await make(), await make()];
  const { calendar, links } = house.running.services;
  expect((await calendar.of(first)).ok).toBe(false);
  expect(await calendar.of(second)).toMatchObject({ value: { board, role: 'planner' } });
  // Whoever has the address needs no cookie; without a start there is no event yet, and that is said.
  expect(await codeOf(await ask(`/calendar/${second}.ics`))).toBe('no-time');
  expect((await ask(`/calendar/${first}.ics`)).status).toBe(404);
  await links.revoke(instructorGrant(board), planner.id);
  expect((await calendar.of(second)).ok).toBe(false);
});

test('health and metrics answer', async () => {
  expect(await (await ask('/health')).json()).toEqual({
    healthy: true,
    store: 'fine',
    disk: expect.stringMatching(/^(fine|nearly full)$/),
    boards: 'fine',
  });
  const text = await (await ask('/metrics')).text();
  expect(readExposition(text).get('larkstep_connections')?.type).toBe('gauge');
});
