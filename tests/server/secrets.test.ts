import { readdir, readFile } from 'node:fs/promises';
import { createConnection } from 'node:net';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { instructorGrant } from '../../lib/access/session.ts';
import { askAt, setUpStudio } from './asking.ts';
import { guest } from './guest.ts';
import { type House, invite, makeBoard, openHouse } from './house.ts';

let house: House;
beforeAll(async () => {
  house = await openHouse();
});
afterAll(() => house.end());

/** Sends bytes as they stand, which no client library would, and gives all that comes back. */
function raw(...lines: string[]): Promise<string> {
  return new Promise((resolve, reject) => {
    const { hostname, port } = new URL(house.address);
    const socket = createConnection(Number(port), hostname, () => socket.write(`${lines.join('\r\n')}`));
    let answer = '';
    socket.setEncoding('latin1');
    socket.on('data', (part: string) => {
      answer += part;
    });
    socket.on('end', () => socket.end());
    socket.on('close', () => resolve(answer));
    socket.on('error', (error: NodeJS.ErrnoException) =>
      error.code === 'ECONNRESET' ? resolve(answer) : reject(error),
    );
  });
}
const statusOf = (answer: string): number => Number(/^HTTP\/1\.1 (\d+)/.exec(answer)?.[1]);
const host = () => `Host: ${new URL(house.address).host}`;
const CLOSE = 'Connection: close';

test('no token, passphrase or code is in anything that is logged, answered in error or kept outside the tables', async () => {
  const passphrase = 'quite-a-secret phrase 9123';
  const code = house.running.setUpCode!;
  await askAt(house, '/api/set-up', { method: 'POST', json: { code: `${code}x`, name: 'Rosa', passphrase } });
  const studio = await setUpStudio(house, passphrase);
  const board = await makeBoard(house);
  const couple = await invite(house, board, 'couple');
  const revoked = await invite(house, board, 'planner');
  const answers: string[] = [];
  const note = async (response: Response) => {
    const { headers } = response;
    answers.push(
      `${response.status} ${[...headers].filter(([name]) => name !== 'set-cookie').join()} ${await response.text()}`,
    );
  };
  const ask = async (...words: Parameters<typeof askAt> extends [unknown, ...infer Rest] ? Rest : never) =>
    note(await askAt(house, ...words));

  const calendar = (await (
    await askAt(house, `/api/boards/${board}/calendar?as=couple`, { method: 'POST', cookie: couple.cookie })
  ).json()) as { url: string };
  const calendarToken = /calendar\/([\w-]+)\.ics/.exec(calendar.url)![1]!;
  await house.running.services.links.revoke(instructorGrant(board), revoked.id);

  // Everything that names a secret in its address, its cookie or its body, rightly and wrongly.
  const html = { headers: { accept: 'text/html', referer: `${house.address}/join/${couple.token}` } };
  for (const token of [couple.token, revoked.token, `${couple.token}x`]) {
    await ask(`/join/${token}`, html);
    await ask(`/join/${token}`, { method: 'POST', headers: { origin: 'https://elsewhere.example' } });
    await ask(`/join/${token}/more`, html);
    await ask(`/join/${token}%00`, html);
  }
  await ask(`/calendar/${calendarToken}.ics`);
  await ask(`/calendar/${calendarToken}.exe`);
  await ask(`/calendar/${calendarToken}x.ics`);
  for (const words of [passphrase, `${passphrase}!`])
    await ask('/api/sign-in', { method: 'POST', json: { passphrase: words, [passphrase]: 1 } });
  await ask('/api/sign-in', { method: 'POST', body: `{"passphrase": "${passphrase}` });
  for (const cookie of [couple.cookie, revoked.cookie, studio, `${studio}x`]) {
    await ask('/api/boards', { cookie });
    await ask(`/api/boards/${board}/audio?as=couple`, { method: 'POST', cookie, body: 'no song at all' });
    await ask(`/api/boards/${board}/links?as=planner`, { cookie });
    await ask(`/api/boards/${board}/links?as=${couple.token}`, { cookie });
    const one = guest(house, { board, role: 'planner', cookie }, 'plan');
    await Promise.race([one.closed, one.synced()]);
    one.leave();
  }
  const dj = await invite(house, board, 'dj');
  const refused = guest(house, { board, role: 'dj', cookie: dj.cookie }, 'plan');
  await refused.synced();
  refused.write({ register: 'venue', value: 'Barn' });
  await refused.closed;
  refused.leave();
  answers.push(await raw(`GET /join/${couple.token} HTTP/1.1`, `Cookie: ${studio}`, '', ''));
  answers.push(await raw(`GARBAGE ${couple.token} ${studio}`, '', ''));
  await ask('/health');
  await ask('/metrics');

  const secrets = [
    passphrase,
    code,
    calendarToken,
    ...[couple, revoked, dj].flatMap(({ token, cookie }) => [token, cookie.split('=')[1]!]),
    studio.split('=')[1]!,
  ];
  const outside: string[] = [];
  for (const name of await readdir(house.folder, { recursive: true })) {
    if (/larkstep\.db(-wal|-shm)?$/.test(name)) continue;
    outside.push(name, await readFile(join(house.folder, name), 'latin1').catch(() => ''));
  }
  // In the tables only hashes stand in place of tokens.
  const tables = await Promise.all(
    ['larkstep.db', 'larkstep.db-wal'].map((name) => readFile(join(house.folder, name), 'latin1')),
  );
  expect(answers.length).toBeGreaterThan(30);
  expect(house.logged.length).toBeGreaterThan(0);
  for (const secret of secrets) {
    expect(house.logged.join('\n')).not.toContain(secret);
    expect(answers.filter((text) => text.includes(secret))).toEqual([]);
    expect(outside.join('\n')).not.toContain(secret);
    expect(tables.some((bytes) => bytes.includes(secret))).toBe(false);
  }
  // The search would find one: the cookie's hash is in the tables, and board ids are in the answers.
  expect(tables.some((bytes) => bytes.includes(board))).toBe(true);
});

describe('a request that is not as it should be', () => {
  test.each([
    ['a slash in disguise', '/api/boards/x%2Fpapers%2Fboard.json?as=couple', 404, 404],
    ['a way up behind slashes in disguise', '/api/boards/x%2F..%2F..%2Fhealth?as=couple', 400, 400],
    ['a way up', '/api/../../etc/passwd', 400, 400],
    ['a way up in disguise', '/%2e%2e/%2e%2e/etc/passwd', 400, 400],
    ['a way up with back slashes', '/api/%5c..%5c..%5cboot.ini', 400, 400],
    ['a null byte', '/calendar/token%00.ics', 400, 400],
    ['a new line', '/join/a%0d%0aSet-Cookie:%20larkstep=x', 400, 400],
    ['letters that are none', '/join/%ff', 400, 400],
    ['two slashes at the start', '//elsewhere.example/', 400, 404],
  ] as const)('leads nowhere: %s', async (_what, path, ...statuses) => {
    const answer = await raw(`GET ${path} HTTP/1.1`, host(), CLOSE, '', '');
    expect(statuses as readonly number[]).toContain(statusOf(answer));
    expect(answer).not.toContain('root:');
    expect(answer.toLowerCase()).not.toContain('\r\nset-cookie');
  });

  test.each([
    // RFC 9112, sections 6.3 and 11.2: a message whose length can be read in two ways is refused.
    ['two lengths', ['Content-Length: 2', 'Content-Length: 44'], 400],
    ['a length and chunks', ['Content-Length: 4', 'Transfer-Encoding: chunked'], 400],
    ['chunks in disguise', ['Transfer-Encoding: chunked, identity'], 400],
    ['a length that is no number', ['Content-Length: +2'], 400],
    // RFC 9112, section 3.2: one Host and no other.
    ['two hosts', ['Host: elsewhere.example', 'Content-Length: 2'], 421],
    ['a header beyond all measure', [`X-Long: ${'a'.repeat(70_000)}`], 431],
    ['a space before the colon', ['Content-Length : 2'], 400],
    ['a header line that goes on', ['X-Folded: a', ' b', 'Content-Length: 2'], 400],
  ] as const)('is refused: %s', async (_what, headers, status) => {
    const smuggled = 'GET /api/boards HTTP/1.1';
    const answer = await raw(
      'POST /api/sign-out HTTP/1.1',
      host(),
      ...headers,
      CLOSE,
      '',
      '{}',
      smuggled,
      '',
      '',
    );
    expect(statusOf(answer)).toBe(status);
    // One answer, not a second for what was smuggled behind it.
    expect(answer.match(/^HTTP\/1\.1/gm)).toHaveLength(1);
  });

  test('without a host, or for another one: nobody may take this server for theirs', async () => {
    expect(statusOf(await raw('GET /health HTTP/1.1', CLOSE, '', ''))).toBe(400);
    for (const name of [
      'evil.example',
      'evil.example:4310',
      'localhost.evil.example',
      '127.0.0.1.evil.example',
    ]) {
      const answer = await raw('GET /health HTTP/1.1', `Host: ${name}`, CLOSE, '', '');
      expect([name, statusOf(answer)]).toEqual([name, 421]);
      const upgrade = await raw(
        'GET /sync/b/plan?as=couple HTTP/1.1',
        `Host: ${name}`,
        `Origin: http://${name}`,
        'Connection: Upgrade',
        'Upgrade: websocket',
        'Sec-WebSocket-Version: 13',
        'Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==',
        '',
        '',
      );
      expect([name, statusOf(upgrade)]).toEqual([name, 403]);
    }
    for (const name of ['localhost', '127.0.0.1:80', '[::1]:4310', 'larkstep', 'studio.local'])
      expect(statusOf(await raw('GET /health HTTP/1.1', `Host: ${name}`, CLOSE, '', ''))).toBe(200);
  });

  test.each(['null', 'https://elsewhere.example', 'http://127.0.0.1', 'file://', ''])(
    'from the origin "%s" changes nothing',
    async (origin) => {
      const before = (await house.running.services.boards.list(null, { from: 0, count: 1 })).total;
      for (const method of ['POST', 'PUT', 'DELETE', 'PATCH'])
        expect((await askAt(house, '/api/boards', { method, headers: { origin }, body: '{}' })).status).toBe(
          403,
        );
      const twice = await raw(
        'POST /api/boards HTTP/1.1',
        host(),
        `Origin: ${house.address}`,
        `Origin: ${origin}`,
        'Content-Length: 0',
        CLOSE,
        '',
        '',
      );
      expect(statusOf(twice)).toBeGreaterThanOrEqual(400);
      expect((await house.running.services.boards.list(null, { from: 0, count: 1 })).total).toBe(before);
    },
  );

  test('says another method or address in a header, and is taken by its first line all the same', async () => {
    const board = await makeBoard(house);
    const { cookie } = await invite(house, board, 'instructor');
    const headers = {
      'x-http-method-override': 'DELETE',
      'x-method-override': 'DELETE',
      'x-original-url': `/api/boards/${board}`,
      'x-rewrite-url': `/api/boards/${board}`,
      'x-forwarded-host': 'elsewhere.example',
      'x-larkstep-peer': '203.0.113.9',
      'x-middleware-subrequest': 'middleware:middleware',
    };
    await askAt(house, `/api/boards/${board}/papers/board.json?as=instructor&_method=DELETE`, {
      cookie,
      headers,
    });
    expect((await house.running.services.boards.read(board, 'crew')).ok).toBe(true);
    const made = await askAt(house, `/api/boards/${board}/links?as=instructor`, {
      method: 'POST',
      cookie,
      headers,
      json: { role: 'dj', days: 1 },
    });
    expect(((await made.json()) as { url: string }).url.startsWith(`${house.address}/join/`)).toBe(true);
  });

  test('claims to come from elsewhere, and is counted where it comes from', async () => {
    house.later(3_600_000);
    const guesses = Array.from({ length: 6 }, (_, guess) => {
      const headers = { 'x-forwarded-for': `203.0.113.${guess}`, 'x-larkstep-peer': `203.0.113.${guess}` };
      const json = { passphrase: `guess ${guess}` };
      return askAt(house, '/api/sign-in', { method: 'POST', headers, json });
    });
    const statuses = (await Promise.all(guesses)).map(({ status }) => status).sort();
    expect(statuses).toEqual([401, 401, 401, 401, 401, 429]);
  });
});
