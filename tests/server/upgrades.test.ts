import { once } from 'node:events';
import { readdir } from 'node:fs/promises';
import { connect, type Socket } from 'node:net';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { WebSocket } from 'ws';
import { closings } from '../../lib/protocol/close.ts';
import { type House, invite, makeBoard, openHouse } from './house.ts';

let house: House;
let board: string;
let cookie: string;
beforeAll(async () => {
  house = await openHouse();
  board = await makeBoard(house);
  cookie = (await invite(house, board, 'couple')).cookie;
});
afterAll(() => house.end());

const UPGRADE = 'Connection: Upgrade\r\nUpgrade: websocket\r\nSec-WebSocket-Version: 13\r\n';
const KEY = 'Sec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==\r\n';

function line(): Socket {
  const socket = connect({ port: house.running.port, host: '127.0.0.1' });
  socket.on('error', () => undefined);
  return socket;
}

/** What the server answers before it closes the line. */
async function answerTo(words: string): Promise<string> {
  const socket = line();
  let answer = '';
  socket.on('data', (part) => {
    answer += part.toString('latin1');
  });
  socket.write(words);
  await once(socket, 'close');
  return answer.split('\r\n', 1)[0]!;
}

const asking = (target: string, rest = UPGRADE + KEY, method = 'GET', host = 'localhost') =>
  `${method} ${target} HTTP/1.1\r\nHost: ${host}\r\n${rest}\r\n`;
/** Requests that nobody honest makes, by turns, each with the status of its answer; null where the line is closed without one. */
const odd: [string, string, number | null][] = [
  ['two slashes', asking('//'), 400],
  ['two slashes and a host', asking('//elsewhere/sync/b/plan'), 400],
  ['an absolute address', asking('http://localhost/sync/b/plan'), 400],
  ['one that no address can be', asking('http://[/'), 400],
  ['a backslash', asking('/\\sync/b/plan'), 400],
  ['half a letter', asking('/sync/%e0%/plan'), 400],
  ['a long one', asking(`/sync/${'a'.repeat(8000)}`), 400],
  ['another method', asking('/sync/b/plan', UPGRADE + KEY, 'POST'), 400],
  ['no method at all', asking('/sync/b/plan', UPGRADE + KEY, 'BREW'), 400],
  ['nowhere', asking('/elsewhere'), 404],
  ['another host', asking('/sync/b/plan', UPGRADE + KEY, 'GET', 'elsewhere.example'), 403],
  ['no key', asking('/sync/b/plan', UPGRADE), 400],
  ['another protocol', asking('/sync/b/plan', 'Connection: Upgrade\r\nUpgrade: h2c\r\n'), 400],
  ['a tunnel', asking('elsewhere.example:443', '', 'CONNECT'), null],
  ['no request', '\r\n\r\n\u0016\u0003\u0001\r\n\r\n', 400],
];

test.each(odd)('an upgrade to %s is answered and its line closed', async (_name, words, status) => {
  const answer = await answerTo(words);
  if (status === null) expect(answer).toBe('');
  else expect(answer).toMatch(new RegExp(`^HTTP/1.1 ${status} `));
});

test('after 10,000 odd requests as many files are open as before, and no more memory is in use', async () => {
  const openFiles = async () => (await readdir('/proc/self/fd')).length;
  const round = async (count: number) => {
    for (let sent = 0; sent < count; sent += 50)
      await Promise.all(
        Array.from({ length: 50 }, (_, index) => answerTo(odd[(sent + index) % odd.length]![1])),
      );
  };
  await round(500);
  const before = { files: await openFiles(), memory: process.memoryUsage().rss };
  await round(10_000);
  expect(await openFiles()).toBeLessThanOrEqual(before.files + 5);
  // A line that is kept takes some 10 KB; what the engine has not yet collected is no leak.
  expect(process.memoryUsage().rss - before.memory).toBeLessThan(80e6);
}, 120_000);

test('what a socket sends before it is known is not kept, and who is unknown is closed at once', async () => {
  const socket = new WebSocket(`${house.address.replace('http', 'ws')}/sync/${board}/plan?as=couple`);
  await once(socket, 'open');
  const before = process.memoryUsage().rss;
  // A message that does not end: 40 sockets would hold 320 MB of it.
  const all = Array.from({ length: 40 }, async () => {
    const raw = line();
    raw.write(asking(`/sync/${board}/plan?as=couple`));
    raw.write(Buffer.from([0x82, 0xff, 0, 0, 0, 0, 0, 0x7a, 0x12, 0, 1, 2, 3, 4]));
    for (let sent = 0; sent < 64 && raw.writable; sent++) raw.write(Buffer.alloc(120_000));
    const began = performance.now();
    await new Promise((resolve) => raw.resume().once('close', resolve));
    return performance.now() - began;
  });
  const [code] = (await once(socket, 'close')) as [number];
  expect(code).toBe(closings.unknown.code);
  const longest = Math.max(...(await Promise.all(all)));
  expect(longest).toBeLessThan(8000);
  // These processes are one: what the other end has not sent yet is its own.
  expect(process.memoryUsage().rss - before).toBeLessThan(40 * 64 * 120_000);
});

test('stopping ends in its time, whatever lines are open', async () => {
  const other = await openHouse();
  const place = await makeBoard(other);
  const member = await invite(other, place, 'couple');
  const raw = (words: string) => {
    const socket = connect({ port: other.running.port, host: '127.0.0.1' });
    socket.on('error', () => undefined);
    socket.write(words);
    return socket;
  };
  const lines = [
    raw('GET / HTT'),
    raw('POST /api/sign-in HTTP/1.1\r\nHost: localhost\r\nContent-Length: 100\r\n\r\n{'),
    raw(asking('/sync/b/plan')),
    raw(asking(`/sync/${place}/plan?as=couple`, `${UPGRADE}${KEY}Cookie: ${member.cookie}\r\n`)),
    raw(asking('//')),
  ];
  const reading = new WebSocket(`${other.address.replace('http', 'ws')}/sync/${place}/plan?as=couple`, {
    headers: { cookie: member.cookie },
  });
  await once(reading, 'open');
  reading.pause();
  const began = performance.now();
  await other.end();
  expect(performance.now() - began).toBeLessThan(8000);
  for (const socket of lines) socket.destroy();
});

test('a link has so many connections in one room, and its other rooms stay open to it', async () => {
  const address = `${house.address.replace('http', 'ws')}/sync/${board}`;
  const open = async (area: string) => {
    const socket = new WebSocket(`${address}/${area}?as=couple`, { headers: { cookie } });
    const closed = once(socket, 'close').then(([code]) => code as number);
    const greeted = once(socket, 'message').then(() => 0);
    return { socket, code: await Promise.race([closed, greeted]) };
  };
  const plans = await Promise.all(Array.from({ length: 40 }, () => open('plan')));
  expect(plans.filter(({ code }) => code === 0)).toHaveLength(24);
  expect(new Set(plans.map(({ code }) => code))).toEqual(new Set([0, closings.crowded.code]));
  const [lessons] = await Promise.all([open('lessons')]);
  expect(lessons.code).toBe(0);
  for (const { socket } of [...plans, lessons]) socket.terminate();
});
