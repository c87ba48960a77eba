import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { Refusals } from '../../app/_client/refusals.ts';
import { instructorGrant } from '../../lib/access/session.ts';
import { registersOf } from '../../lib/board/layout.ts';
import type { Role } from '../../lib/core/areas/people.ts';
import { type Closing, closingOf, closings } from '../../lib/protocol/close.ts';
import { updateFrame } from '../../server/sync/frames.ts';
import { guest } from './guest.ts';
import { type House, invite, makeBoard, openHouse } from './house.ts';

let house: House;
let board: string;
let guests: { leave(): void }[];
beforeAll(async () => {
  house = await openHouse();
});
afterAll(() => house.end());
beforeEach(async () => {
  guests = [];
  board = await makeBoard(house);
});
afterEach(() => {
  for (const one of guests) one.leave();
});

async function enter(role: Role, days: number | null = null) {
  const link = await invite(house, board, role, days);
  const one = guest(house, { board, role, cookie: link.cookie }, 'plan');
  guests.push(one);
  await one.synced();
  return { ...one, link: link.id };
}
type Guest = Awaited<ReturnType<typeof enter>>;

/** What somebody does, and how the server closes their connection for it. */
const causes: [Closing, Role, (one: Guest) => unknown][] = [
  ['noRight', 'dj', (dj) => dj.write({ register: 'venue', value: 'Secret barn' })],
  ['invalid', 'couple', (one) => one.write({ register: 'phraseBars', value: 400 })],
  ['reload', 'couple', (one) => registersOf(one.doc).set('version', 99)],
  [
    'malformed',
    'couple',
    (one) => one.provider.ws?.send(new Uint8Array(updateFrame(Uint8Array.of(1, 2, 3, 250)))),
  ],
  ['tooLarge', 'couple', (one) => registersOf(one.doc).set('title', 'long '.repeat(1_700_000))],
  ['ended', 'couple', () => house.later(86_400_001)],
  ['revoked', 'couple', (one) => house.running.services.links.revoke(instructorGrant(board), one.link)],
  ['gone', 'couple', () => house.running.services.boards.remove(board)],
];

describe('a connection that the server closes for good', () => {
  test.each(causes)(
    '%s: the code says why, nobody sees a trace, and the client stays away',
    async (why, role, act) => {
      const one = await enter(role, why === 'ended' ? 1 : null);
      const beside = await enter('instructor');
      const before = JSON.stringify(beside.read());
      const heard: Uint8Array[] = [];
      beside.doc.on('update', (update: Uint8Array) => heard.push(update));
      const reasons: string[] = [];
      one.provider.on('connection-close', (event) => reasons.push(event?.reason ?? ''));
      await act(one);
      expect(closingOf(await one.closed)).toBe(why);
      // A stock client stops for good on these codes, and only on these.
      expect(one.provider.shouldConnect).toBe(false);
      if (why === 'invalid') expect(reasons[0]).toBe('phraseBars: at most 32.');
      if (why === 'gone') return;
      expect(heard).toEqual([]);
      expect(JSON.stringify(beside.read())).toBe(before);
      const kept = await house.running.services.boards.read(board, 'instructor');
      expect(kept.ok && JSON.stringify(kept.value.plan)).toBe(before);
      // What it wrote is still in its own document, to be kept by the person.
      if (why === 'noRight') expect(one.read().venue).toBe('Secret barn');
      // The others go on.
      beside.write({ register: 'title', value: `After ${why}` });
      await beside.acknowledged(2);
    },
  );

  test('who was refused comes back with what the server has, and is not refused for it again', async () => {
    const one = await enter('couple');
    one.write({ register: 'venue', value: 'Barn' });
    await one.acknowledged(2);
    one.write({ register: 'phraseBars', value: 400 });
    expect(closingOf(await one.closed)).toBe('invalid');
    // As our page does: the document that was refused is let go, and a new one begun.
    const again = await enter('couple');
    expect(again.read()).toMatchObject({ venue: 'Barn', phraseBars: null });
    again.write({ register: 'phraseBars', value: 8 });
    await again.acknowledged(2);
  });
});

test('a server that stops is no refusal: the client comes again by itself, with what it wrote meanwhile', async () => {
  const one = await enter('couple');
  const codes: number[] = [];
  one.provider.on('connection-close', (event) => codes.push(event?.code ?? 0));
  await house.running.stop();
  one.write({ register: 'venue', value: 'Barn' });
  await house.start();
  const beside = await enter('dj');
  await beside.sees(({ venue }) => venue === 'Barn');
  expect(codes[0]).toBe(closings.stopping.code);
  expect(one.provider.shouldConnect).toBe(true);
});

describe('what our page does for each code', () => {
  test('a lasting reason has a code on which clients stop, a passing one a code on which they try again', () => {
    for (const [name, { code, page }] of Object.entries(closings))
      expect([name, code >= 4400 && code < 4500]).toEqual([name, page !== 'tries again']);
    expect(new Set(Object.values(closings).map(({ code }) => code)).size).toBe(Object.keys(closings).length);
  });

  test('what is refused is opened anew, what has ended keeps its copy, what was taken back keeps none', () => {
    const of = (page: string) =>
      Object.entries(closings).flatMap(([name, closing]) => (closing.page === page ? [name] : []));
    expect(of('opens anew')).toEqual(['malformed', 'noRight', 'outdated', 'tooLarge', 'invalid']);
    expect(of('stops')).toEqual(['unknown', 'ended', 'apart', 'reload']);
    expect(of('forgets')).toEqual(['gone', 'revoked']);
    expect(of('tries again')).toEqual(['stopping', 'failed', 'crowded', 'changed', 'slow']);
    for (const { page, sentence } of Object.values(closings))
      if (page === 'opens anew') expect(sentence).toMatch(/kept|shorten/);
  });

  test('opening anew never goes round in circles', () => {
    const refusals = new Refusals();
    expect(refusals.mayOpenAnew('plan')).toBe(true);
    expect(refusals.mayOpenAnew('plan')).toBe(false);
    expect(refusals.mayOpenAnew('show')).toBe(true);
    refusals.exchanged('plan');
    expect(refusals.mayOpenAnew('plan')).toBe(true);
  });
});

test('a document that was refused holds nothing of the others hostage: what it had sent before stays', async () => {
  const one = await enter('couple');
  one.write({ register: 'title', value: 'Kept' });
  one.write({ register: 'phraseBars', value: 400 });
  await one.closed;
  const beside = await enter('dj');
  expect(beside.read()).toMatchObject({ title: 'Kept', phraseBars: null });
  expect(Y.encodeStateVector(beside.doc).length).toBeGreaterThan(1);
});
