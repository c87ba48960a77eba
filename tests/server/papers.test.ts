import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Services } from '../../lib/access/services.ts';
import type { Grant } from '../../lib/access/session.ts';
import { good } from '../../lib/core/result.ts';
import { Gate } from '../../server/gate.ts';
import { PaperQueue } from '../../server/services/papers.ts';
import { boardOf } from '../kit/board.ts';
import { askAt } from './asking.ts';
import { type House, invite, openHouse } from './house.ts';

type Asked = Parameters<Services['papers']['make']>;
const grantOf = (board: string, root: string): Pick<Grant, 'board' | 'role' | 'root'> => ({
  board,
  role: 'instructor',
  root,
});
const A4 = { size: 'A4', clock: 'floor' } as const;

/** A queue, the boards it has begun to make papers of, and a way to let the one that is being made be done. */
function queued() {
  const begun: string[] = [];
  const done: (() => void)[] = [];
  const queue = new PaperQueue((...[{ board }]: Asked) => {
    begun.push(board);
    return new Promise((resolve) =>
      done.push(() => resolve(good({ bytes: new Uint8Array(1), name: 'sheet.pdf' }))),
    );
  });
  const finish = async () => {
    done.shift()!();
    await new Promise((resolve) => setImmediate(resolve));
  };
  return { queue, begun, finish };
}

test('a hundred who ask for the same paper at once have it made twice: what was being made may be older than the question', async () => {
  const { queue, begun, finish } = queued();
  const all = Array.from({ length: 100 }, () => queue.make(grantOf('b', 'm'), 'dj.pdf', A4));
  await finish();
  await finish();
  expect((await Promise.all(all)).every(({ ok }) => ok)).toBe(true);
  expect(begun).toHaveLength(2);
});

test('each link has its turn, however many papers another one asks for, and only so many wait', async () => {
  const { queue, begun, finish } = queued();
  const many = Array.from({ length: 30 }, (_, index) =>
    queue.make(grantOf(`many ${index}`, 'many'), 'dj.pdf', A4),
  );
  const other = queue.make(grantOf('other', 'other'), 'dj.pdf', A4);
  await finish();
  await finish();
  await finish();
  expect(begun.indexOf('other')).toBeLessThanOrEqual(2);
  expect((await other).ok).toBe(true);
  while (begun.length < 14) await finish();
  await finish();
  const refused = (await Promise.all(many)).filter(({ ok }) => !ok);
  expect(refused).toHaveLength(30 - 13);
  expect(refused[0]).toMatchObject({ problem: { code: 'busy' } });
});

test('a queue that is full says so, and goes on', async () => {
  const { queue, finish } = queued();
  const all = Array.from({ length: 70 }, (_, index) =>
    queue.make(grantOf(`b ${index}`, `m ${index}`), 'dj.pdf', A4),
  );
  for (let index = 0; index < 61; index++) await finish();
  const made = await Promise.all(all);
  expect(made.filter(({ ok }) => ok)).toHaveLength(61);
});

test('one that throws is refused in words, and the next is made', async () => {
  let times = 0;
  const queue = new PaperQueue(async () => {
    times += 1;
    if (times === 1) throw new Error('no paper');
    return good({ bytes: new Uint8Array(1), name: 'sheet.pdf' });
  });
  expect(await queue.make(grantOf('a', 'm'), 'dj.pdf', A4)).toMatchObject({ problem: { code: 'busy' } });
  expect((await queue.make(grantOf('b', 'm'), 'dj.pdf', A4)).ok).toBe(true);
});

test('one browser comes through a gate so many at a time and in order, and keeps no other waiting', async () => {
  const gate = new Gate(2);
  const order: string[] = [];
  const left: (() => void)[] = [];
  const enter = async (key: string, name: string) => {
    const leave = await gate.enter(key);
    order.push(name);
    left.push(leave!);
  };
  const all = ['a', 'b', 'c', 'd'].map((name) => enter('one', name));
  await enter('other', 'next door');
  expect(order).toEqual(['a', 'b', 'next door']);
  for (let turn = 0; turn < 4; turn++) {
    left.shift()!();
    await new Promise((resolve) => setImmediate(resolve));
  }
  await Promise.all(all);
  expect(order).toEqual(['a', 'b', 'next door', 'c', 'd']);
  for (const leave of left) leave();
  const many = Array.from({ length: 300 }, () => gate.enter('many'));
  const refused = Promise.race(many.slice(250));
  expect(await refused).toBeNull();
});

let house: House;
beforeAll(async () => {
  house = await openHouse();
});
afterAll(() => house.end());

test('a hundred sheets at once are all given, and the loop goes on meanwhile', async () => {
  const made = await house.running.services.boards.makeFrom(boardOf());
  if (!made.ok) throw new Error(made.problem.sentence);
  const { cookie } = await invite(house, made.value, 'couple');
  const path = `/api/boards/${made.value}/papers/couple.pdf?as=couple`;
  let longest = 0;
  let last = performance.now();
  const ticking = setInterval(() => {
    longest = Math.max(longest, performance.now() - last);
    last = performance.now();
  }, 5);
  const answers = await Promise.all(Array.from({ length: 100 }, () => askAt(house, path, { cookie })));
  clearInterval(ticking);
  expect(new Set(answers.map(({ status }) => status))).toEqual(new Set([200]));
  expect(await answers[99]!.text()).toMatch(/^%PDF/);
  // Made here one after the other they would hold it for some seconds.
  expect(longest).toBeLessThan(1500);
});
