import { EventEmitter, once } from 'node:events';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { WebSocket } from 'ws';
import * as Y from 'yjs';
import { type Grant, instructorGrant } from '../../lib/access/session.ts';
import { newArea } from '../../lib/board/layout.ts';
import { areas } from '../../lib/core/areas/board.ts';
import { closings } from '../../lib/protocol/close.ts';
import { messageType, syncType } from '../../lib/protocol/messages.ts';
import type { Store } from '../../lib/store/store.ts';
import { Metrics } from '../../server/metrics.ts';
import { Budget, Turns } from '../../server/sync/budget.ts';
import { Connection } from '../../server/sync/connection.ts';
import { Cursors } from '../../server/sync/cursors.ts';
import { awarenessFrame, readFrame, readShown, step1Frame } from '../../server/sync/frames.ts';
import { type Deletions, isKnown } from '../../server/sync/known.ts';
import { Owners } from '../../server/sync/owners.ts';
import { Room } from '../../server/sync/room.ts';
import { guest } from './guest.ts';
import { type House, invite, makeBoard, openHouse } from './house.ts';

const turnOfLoop = () => new Promise((resolve) => setImmediate(resolve));

/** The socket as a connection uses it; what is sent is out when the test says so. */
class Line extends EventEmitter {
  bufferedAmount = 0;
  readonly sent: Uint8Array[] = [];
  readonly out: (() => void)[] = [];
  code: number | null = null;
  send(frame: Uint8Array, out: () => void = () => undefined): void {
    this.sent.push(frame);
    this.out.push(out);
  }
  ping(): void {}
  close(code: number): void {
    this.code = code;
  }
  terminate(): void {}
  /** Frames of this kind, from the second number on where there is one. */
  count(type: number, step?: number): number {
    return this.sent.filter((frame) => frame[0] === type && (step === undefined || frame[1] === step)).length;
  }
}

function connect(room: Room, grant: Grant = instructorGrant('b')): Line {
  const line = new Line();
  const options = { budget: new Budget(new Turns()), acknowledges: true, onEnd: () => undefined };
  new Connection(line as unknown as WebSocket, room, grant, '', new Metrics(), options).greet();
  return line;
}
function openRoom(): Room {
  const stored = { updates: [], head: 0, loose: 0, claims: [] };
  return new Room({} as Store, 'b', 'plan', stored, newArea(areas.plan), () => undefined);
}
const shown = (client: number, clock: number, name = 'Ida') =>
  Buffer.from(awarenessFrame([{ client, clock, json: JSON.stringify({ user: { name } }) }]));

test('a thousand questions for the state are answered by one answer at a time', async () => {
  const room = openRoom();
  const line = connect(room);
  await turnOfLoop();
  for (let asked = 0; asked < 1000; asked++) line.emit('message', Buffer.from(step1Frame(Uint8Array.of(0))));
  await turnOfLoop();
  expect(line.count(messageType.sync, syncType.step2)).toBe(1);
  for (let time = 0; time < 50; time++) {
    for (const out of line.out.splice(0)) out();
    await turnOfLoop();
  }
  // What came while one was on its way is answered once; how much that was depends on how fast this machine is.
  expect(line.count(messageType.sync, syncType.step2)).toBeGreaterThan(1);
  expect(line.count(messageType.sync, syncType.step2)).toBeLessThan(30);
  expect(room.answers.encoded).toBe(1);
});

test('a hundred who ask for the same state have it encoded once, and anew when it has changed', async () => {
  const room = openRoom();
  const lines = Array.from({ length: 100 }, () => connect(room));
  for (const line of lines) line.emit('message', Buffer.from(step1Frame(Uint8Array.of(0))));
  await turnOfLoop();
  expect(lines.map((line) => line.count(messageType.sync, syncType.step2))).toEqual(lines.map(() => 1));
  expect(room.answers.encoded).toBe(1);
  room.doc.getMap('registers').set('title', 'First dance');
  const later = connect(room);
  later.emit('message', Buffer.from(step1Frame(Uint8Array.of(0))));
  await turnOfLoop();
  expect(room.answers.encoded).toBe(2);
});

test('a thousand questions who is here are answered by few answers', async () => {
  const room = openRoom();
  const line = connect(room);
  await turnOfLoop();
  const before = line.count(messageType.awareness);
  for (let asked = 0; asked < 1000; asked++) line.emit('message', Buffer.of(messageType.queryAwareness));
  for (let time = 0; time < 5; time++) {
    for (const out of line.out.splice(0)) out();
    await turnOfLoop();
  }
  expect(line.count(messageType.awareness) - before).toBeLessThanOrEqual(3);
});

test('of a cursor that moves a thousand times others are sent the newest, a few times a second and in one frame', async () => {
  let now = 0;
  const sent: number[][] = [];
  const cursors = new Cursors(
    (people) => void sent.push(people.map(({ clock }) => clock)),
    () => now,
  );
  for (let clock = 1; clock <= 1000; clock++)
    for (const client of [1, 2, 3]) cursors.show({ client, clock, json: '{}', membership: 'm' });
  expect(sent).toEqual([[1]]);
  now = 1000;
  await new Promise((resolve) => setTimeout(resolve, 150));
  expect(sent).toEqual([[1], [1000, 1000, 1000]]);
});

test('who reads slowly goes without cursors, and is shown everybody once it has read', () => {
  const room = openRoom();
  const line = connect(room);
  for (const out of line.out.splice(0)) out();
  const before = line.count(messageType.awareness);
  line.bufferedAmount = 1_000_000;
  const other = connect(room, { ...instructorGrant('b'), membership: 'other' });
  other.emit('message', shown(7, 1));
  expect(line.count(messageType.awareness)).toBe(before);
  line.bufferedAmount = 0;
  room.tell(awarenessFrame([]), null, true);
  const [last] = line.sent.filter((frame) => frame[0] === messageType.awareness).slice(-1);
  const frame = readFrame(last!);
  expect(frame?.kind === 'awareness' && readShown(frame.update).map(({ client }) => client)).toEqual([7]);
});

/** An update that brings nothing and says that these ranges of client 7 are deleted. */
function deletionsOf(ranges: [number, number][]): Uint8Array {
  const bytes = [0, 1, 7];
  const write = (number: number) => {
    let rest = number;
    for (; rest > 127; rest = Math.floor(rest / 128)) bytes.push((rest % 128) | 128);
    bytes.push(rest);
  };
  write(ranges.length);
  for (const [clock, length] of ranges) {
    write(clock);
    write(length);
  }
  return Uint8Array.from(bytes);
}
const some = (count: number): [number, number][] =>
  Array.from({ length: count }, (_, index) => [index * 4, 2]);

test('what somebody knows to be deleted is compared in a step for each range, in their order', () => {
  const doc = new Y.Doc();
  let looks = 0;
  const counted = some(50_000).map(
    ([clock, len]) =>
      ({
        get clock() {
          looks += 1;
          return clock;
        },
        len,
      }) as { clock: number; len: number },
  );
  const known = (ranges: [number, number][]) =>
    isKnown(doc, deletionsOf(ranges), () => new Map([[7, counted]]) as unknown as Deletions);
  expect(known(some(50_000))).toBe(true);
  expect(looks).toBeLessThan(50_000 * 4);
  expect(
    known([
      [0, 1],
      [4, 2],
    ]),
  ).toBe(true);
  expect(known([[0, 3]])).toBe(false);
  expect(known([[2, 1]])).toBe(false);
  expect(known([[200_001, 1]])).toBe(false);
  expect(
    known([
      [4, 2],
      [0, 2],
    ]),
  ).toBe(false);
  // More than any list of deletions is.
  expect(known(some(300_000))).toBe(false);
});

test('a client id belongs to a link from the moment it is shown', async () => {
  const owners = new Owners([{ client: 3, membership: 'writer' }]);
  expect([owners.show(7, 'first'), owners.show(7, 'first'), owners.show(7, 'second')]).toEqual([
    true,
    true,
    false,
  ]);
  expect([owners.show(3, 'second'), owners.show(3, 'writer')]).toEqual([false, true]);
  // The shown one is not written under by another, and is kept by the store once its owner writes.
  const doc = new Y.Doc();
  doc.clientID = 7;
  doc.getMap('registers').set('title', 'First dance');
  const { structs } = Y.decodeUpdate(Y.encodeStateAsUpdate(doc));
  const empty = new Y.Doc();
  expect(owners.claims(empty, structs, 'second')).toMatchObject({ ok: false, problem: { code: 'invalid' } });
  expect(owners.claims(empty, structs, 'first')).toEqual({
    ok: true,
    value: [{ client: 7, membership: 'first' }],
  });
});

test('ids that a link has shown and never written under are forgotten, the oldest first', () => {
  const owners = new Owners([]);
  owners.show(1, 'other');
  for (let client = 1000; client < 1300; client++) owners.show(client, 'many');
  expect([owners.show(1, 'many'), owners.show(1000, 'other'), owners.show(1299, 'other')]).toEqual([
    false,
    true,
    false,
  ]);
});

let house: House;
let board: string;
beforeAll(async () => {
  house = await openHouse();
  board = await makeBoard(house);
});
afterAll(() => house.end());

test("an id that somebody's cursor shows is not written under by another link, and its owner's words are kept", async () => {
  const [couple, planner] = [await invite(house, board, 'couple'), await invite(house, board, 'instructor')];
  const owner = guest(house, { board, role: 'couple', cookie: couple.cookie }, 'plan');
  await owner.synced();
  owner.provider.awareness.setLocalState({ user: { name: 'Ida', color: '#aa0000' } });
  const thief = guest(house, { board, role: 'instructor', cookie: planner.cookie }, 'plan');
  await thief.synced();
  await new Promise<void>((resolve) => {
    const look = () => {
      if (thief.provider.awareness.getStates().has(owner.doc.clientID)) resolve();
    };
    thief.provider.awareness.on('change', look);
    look();
  });
  thief.doc.clientID = owner.doc.clientID;
  thief.write({ register: 'title', value: 'Taken' });
  expect(await thief.closed).toBe(closings.invalid.code);
  owner.write({ register: 'title', value: 'Ours' });
  await owner.saved();
  const read = await house.running.services.boards.read(board, 'couple');
  expect(read.ok && read.value.plan.title).toBe('Ours');
  owner.leave();
  thief.leave();
});

test('unfinished messages of a link are bounded in all: of six some are let go, and the person next door is served', async () => {
  const { cookie } = await invite(house, board, 'crew');
  const address = `${house.address.replace('http', 'ws')}/sync/${board}/show?as=crew`;
  const sockets = await Promise.all(
    Array.from({ length: 6 }, async () => {
      const socket = new WebSocket(address, { headers: { cookie } });
      socket.on('error', () => undefined);
      await once(socket, 'open');
      return socket;
    }),
  );
  // Each by itself may be so long: none is told that it is too large.
  const closed = Promise.race(
    sockets.map((socket) =>
      once(socket, 'close').then(([code]) => expect(code).not.toBe(closings.tooLarge.code)),
    ),
  );
  for (const socket of sockets) socket.send(Buffer.alloc(3_500_000), { fin: false });
  await closed;
  const next = await invite(house, board, 'couple');
  const beside = guest(house, { board, role: 'couple', cookie: next.cookie }, 'plan');
  await beside.synced();
  beside.write({ register: 'title', value: 'Served' });
  await beside.saved();
  beside.leave();
  for (const socket of sockets) socket.terminate();
});
