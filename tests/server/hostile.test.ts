import { once } from 'node:events';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { WebSocket } from 'ws';
import * as Y from 'yjs';
import { closings } from '../../lib/protocol/close.ts';
import { step2Frame, updateFrame } from '../../server/sync/frames.ts';
import { guest } from './guest.ts';
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

/** The code with which the server closes a socket that sends this. */
async function closingOf(frame: Uint8Array | string): Promise<number> {
  const socket = new WebSocket(`${house.address.replace('http', 'ws')}/sync/${board}/plan?as=couple`, {
    headers: { cookie },
  });
  await once(socket, 'open');
  socket.send(frame);
  const [code] = (await once(socket, 'close')) as [number];
  return code;
}

function updateOf(make: (doc: Y.Doc) => void): Uint8Array {
  const doc = new Y.Doc();
  // Of two who set the same value at once the higher client id wins: so that this one always does.
  doc.clientID = 2 ** 32 - 1;
  make(doc);
  return Y.encodeStateAsUpdate(doc);
}
const deep = (depth: number): unknown => (depth === 0 ? 1 : { a: deep(depth - 1) });

const { malformed, invalid, tooLarge, reload } = closings;
const frames: [string, Uint8Array | string, number][] = [
  ['nothing', new Uint8Array(0), malformed.code],
  ['a text', 'hello', malformed.code],
  ['an unknown type', Uint8Array.of(42), malformed.code],
  ['an unknown step', Uint8Array.of(0, 9, 0), malformed.code],
  ['a number without end', new Uint8Array(40).fill(255), malformed.code],
  ['a length beyond the frame', Uint8Array.of(0, 2, 255, 255, 255, 15), malformed.code],
  ['a state vector that lies about its length', Uint8Array.of(0, 0, 2, 200, 1), malformed.code],
  [
    'an update of noise',
    updateFrame(Uint8Array.from({ length: 200 }, (_, i) => (i * 73) % 256)),
    malformed.code,
  ],
  ['awareness that is no JSON', Uint8Array.of(1, 5, 1, 7, 1, 1, 123), malformed.code],
  [
    'a root that the area has not',
    updateFrame(updateOf((doc) => doc.getMap('mine').set('a', 1))),
    invalid.code,
  ],
  [
    'a thousand roots',
    step2Frame(
      updateOf((doc) => {
        for (let index = 0; index < 1000; index++) doc.getMap(`root${index}`).set('a', 1);
      }),
    ),
    invalid.code,
  ],
  [
    'a register of another kind',
    updateFrame(updateOf((doc) => doc.getMap('registers').set('target', 'long'))),
    invalid.code,
  ],
  [
    'a document of a newer version',
    updateFrame(updateOf((doc) => doc.getMap('registers').set('version', 2 ** 20))),
    reload.code,
  ],
  [
    'a value of great depth',
    updateFrame(updateOf((doc) => doc.getMap('registers').set('edit', deep(500)))),
    invalid.code,
  ],
  [
    'a text where a value belongs',
    updateFrame(updateOf((doc) => doc.getMap('registers').set('target', new Y.Text('x')))),
    invalid.code,
  ],
  ['more than a board can hold', updateFrame(new Uint8Array(8 * 1024 * 1024)), tooLarge.code],
  ['far more than a board can hold', updateFrame(new Uint8Array(16 * 1024 * 1024)), tooLarge.code],
];

for (const [name, frame, code] of frames)
  test(`${name} closes that socket only`, async () => {
    const beside = guest(house, { board, role: 'couple', cookie }, 'plan');
    await beside.synced();
    expect(await closingOf(frame)).toBe(code);
    beside.write({ register: 'title', value: name });
    await beside.acknowledged(2);
    beside.leave();
  });

test('whoever is refused again and again comes in one by one, and the person next door at once', async () => {
  const next = (await invite(house, board, 'instructor')).cookie;
  const order: string[] = [];
  const codes: number[] = [];
  const again = async () => {
    for (let time = 0; time < 4; time++) {
      codes.push(await closingOf(Uint8Array.of(42)));
      order.push('forged');
    }
  };
  const forged = Array.from({ length: 20 }, again);
  await Promise.race(forged);
  const beside = guest(house, { board, role: 'instructor', cookie: next }, 'plan');
  await beside.synced();
  order.push('next door');
  await Promise.all(forged);
  expect(new Set(codes)).toEqual(new Set([malformed.code]));
  expect(order.at(-1)).toBe('forged');
  beside.leave();
});

test('a socket from another site is refused before it opens', async () => {
  const socket = new WebSocket(`${house.address.replace('http', 'ws')}/sync/${board}/plan?as=couple`, {
    headers: { cookie, origin: 'https://elsewhere.example' },
  });
  const [, response] = (await once(socket, 'unexpected-response')) as [unknown, { statusCode: number }];
  expect(response.statusCode).toBe(403);
});

test('a second server on the same folder is told so', async () => {
  await expect(house.openBeside()).rejects.toThrow(/Another Larkstep server/);
});

test('a taken port is one clear line', async () => {
  await expect(openHouse({ port: house.running.port })).rejects.toThrow(/^Port \d+ is taken/);
});

test('one who sends too fast waits, and loses nothing', async () => {
  const fast = guest(house, { board, role: 'couple', cookie }, 'lessons');
  await fast.synced();
  const count = 700;
  for (let index = 0; index < count; index++)
    fast.write({
      collection: 'readiness',
      id: 'm',
      fields: { level: (index % 4) as 0, at: '2031-05-01T10:00:00.000Z' },
    });
  await fast.acknowledged(count + 1);
  fast.leave();
});
