import { EventEmitter } from 'node:events';
import type { Duplex } from 'node:stream';
import { expect, test } from 'vitest';
import type { WebSocket } from 'ws';
import { Budget, Turns } from '../../server/sync/budget.ts';

/** A clock that work puts forward. */
let now = 0;
const working =
  (ms: number, then: () => void = () => undefined) =>
  () => {
    now += ms;
    then();
  };
const turnOfLoop = () => new Promise((resolve) => setImmediate(resolve));

function line(budget: Budget, room: object = {}) {
  const raw = new EventEmitter();
  const socket = Object.assign(new EventEmitter(), {
    paused: false,
    bufferedAmount: 0,
    pause: () => {
      socket.paused = true;
    },
    resume: () => {
      socket.paused = false;
    },
  });
  let cut = 0;
  const onTooMuch = () => {
    cut += 1;
  };
  budget.watch(socket as unknown as WebSocket, raw as unknown as Duplex, room, onTooMuch);
  return { raw, socket, cut: () => cut };
}
/** Lets the loop turn until this holds, the clock going on meanwhile. */
async function until(holds: () => boolean): Promise<void> {
  while (!holds()) {
    now += 1;
    await turnOfLoop();
  }
}

test('what a link has time for is done at once', () => {
  const budget = new Budget(new Turns(), () => now);
  const done: number[] = [];
  for (let index = 0; index < 4; index++) budget.run(working(1, () => done.push(index)));
  expect(done).toEqual([0, 1, 2, 3]);
});

test('what comes beyond waits in order, its sockets are read no further, and nothing is lost', async () => {
  const budget = new Budget(new Turns(), () => now);
  const [one, other] = [line(budget), line(budget)];
  const done: number[] = [];
  for (let index = 0; index < 300; index++) budget.run(working(1, () => done.push(index)));
  expect(done.length).toBeLessThan(10);
  expect([one.socket.paused, other.socket.paused]).toEqual([true, true]);
  await until(() => !one.socket.paused);
  expect(done).toEqual(Array.from({ length: 300 }, (_, index) => index));
  expect(other.socket.paused).toBe(false);
});

test('over a long time a link has a quarter of the loop', async () => {
  const budget = new Budget(new Turns(), () => now);
  // Its burst first.
  budget.run(working(200));
  const began = now;
  let worked = 0;
  for (let index = 0; index < 100; index++) budget.run(working(2, () => (worked += 2)));
  await until(() => worked === 200);
  // Timers run by the real clock here, which is the faster one or the slower: so only the least that it must take.
  expect(now - began).toBeGreaterThanOrEqual(200);
});

test('two links that send without end have their turns one after the other, slice by slice', async () => {
  const turns = new Turns();
  const order: string[] = [];
  for (const name of ['a', 'b']) {
    const budget = new Budget(turns, () => now);
    for (let index = 0; index < 60; index++) budget.run(working(1, () => order.push(name)));
  }
  await until(() => order.length === 120);
  const changes = order.filter((name, index) => index > 0 && order[index - 1] !== name).length;
  expect(changes).toBeGreaterThan(12);
});

test('bytes of messages without an end are bounded by link, not by socket', () => {
  const budget = new Budget(new Turns(), () => now);
  const lines = Array.from({ length: 3 }, () => line(budget));
  const chunk = new Uint8Array(64 * 1024);
  for (let read = 0; read < 100; read++) for (const { raw } of lines) raw.emit('data', chunk);
  expect(lines.filter(({ cut }) => cut() > 0)).not.toHaveLength(0);
  const other = new Budget(new Turns(), () => now);
  const honest = line(other);
  for (let read = 0; read < 1000; read++) {
    honest.raw.emit('data', chunk);
    if (read % 100 === 99) honest.socket.emit('message');
  }
  expect(honest.cut()).toBe(0);
});

test('a place is free again once its line is down', () => {
  const budget = new Budget(new Turns(), () => now);
  const room = {};
  const lines = Array.from({ length: 24 }, () => line(budget, room));
  expect([budget.hasPlaceIn(room), budget.hasPlaceIn({})]).toEqual([false, true]);
  lines[0]!.raw.emit('close');
  expect(budget.hasPlaceIn(room)).toBe(true);
});
