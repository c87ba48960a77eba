import { EventEmitter, once } from 'node:events';
import * as encoding from 'lib0/encoding';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { WebSocket } from 'ws';
import * as Y from 'yjs';
import { type Grant, instructorGrant } from '../../lib/access/session.ts';
import { applyChanges } from '../../lib/board/area.ts';
import { problemsOf } from '../../lib/board/fits.ts';
import { newArea, registersOf } from '../../lib/board/layout.ts';
import { areas } from '../../lib/core/areas/board.ts';
import { type Closing, closingOf } from '../../lib/protocol/close.ts';
import type { Store } from '../../lib/store/store.ts';
import { Metrics } from '../../server/metrics.ts';
import { Budget, Turns } from '../../server/sync/budget.ts';
import { Connection } from '../../server/sync/connection.ts';
import { awarenessFrame, step1Frame, step2Frame, updateFrame } from '../../server/sync/frames.ts';
import { Room } from '../../server/sync/room.ts';
import { dice } from '../kit/synth.ts';
import { guest } from './guest.ts';
import { type House, invite, makeBoard, openHouse } from './house.ts';

/** A socket as a connection uses it. */
class Line extends EventEmitter {
  bufferedAmount = 0;
  code: number | null = null;
  readonly sent: Uint8Array[] = [];
  send(frame: Uint8Array): void {
    this.sent.push(frame);
  }
  close(code: number): void {
    this.code = code;
    this.emit('close');
  }
  ping(): void {}
  terminate(): void {}
  pause(): void {}
  resume(): void {}
}

function roomOf(stored: (update: Uint8Array) => void = () => undefined): Room {
  let head = 0;
  const append = async (_board: string, _area: string, update: Uint8Array) => {
    stored(update);
    return ++head;
  };
  const empty = { updates: [], head: 0, loose: 0, claims: [] };
  const store = { areas: { append } } as unknown as Store;
  return new Room(store, 'b', 'plan', empty, newArea(areas.plan), () => undefined);
}
function connect(room: Room, grant: Grant): Line {
  const line = new Line();
  const options = { budget: new Budget(new Turns()), acknowledges: true, onEnd: () => undefined };
  new Connection(line as unknown as WebSocket, room, grant, '', new Metrics(), options);
  return line;
}

/** Frames that are fine, to be spoilt. */
function fineFrames(): Uint8Array[] {
  const doc = newArea(areas.plan);
  doc.clientID = 77;
  applyChanges(doc, areas.plan, [
    { register: 'title', value: 'First dance' },
    { register: 'target', value: { length: 185, within: 20 } as never },
    { collection: 'cues', id: 'c1', fields: { at: 12 as never, word: 'lantern' } },
  ]);
  const update = Y.encodeStateAsUpdate(doc);
  const shown = { client: 77, clock: 1, json: '{"user":{"name":"Ida","color":"#112233"}}' };
  return [
    updateFrame(update),
    step2Frame(update),
    step1Frame(Y.encodeStateVector(doc)),
    awarenessFrame([shown]),
    Uint8Array.of(3),
  ];
}

function spoilt(frame: Uint8Array, random: () => number): Uint8Array {
  const at = Math.floor(random() * frame.length);
  const copy = Uint8Array.from(frame);
  switch (Math.floor(random() * 5)) {
    case 0:
      copy[at] = Math.floor(random() * 256);
      return copy;
    case 1:
      return copy.slice(0, at);
    case 2:
      return Uint8Array.from([...copy, ...copy.slice(at)]);
    case 3:
      copy.fill(255, at, at + 9);
      return copy;
    default:
      return Uint8Array.from({ length: 1 + Math.floor(random() * 60) }, () => Math.floor(random() * 256));
  }
}

test('of 10,000 spoilt frames none ends the server, harms the board or keeps the people of another room waiting', async () => {
  const random = dice(4310);
  const fine = fineFrames();
  const [room, elsewhere] = [roomOf(), roomOf()];
  const person = connect(elsewhere, instructorGrant('b'));
  const page = newArea(areas.plan);
  let frames = 0;
  const served = async () => {
    const before = Y.encodeStateVector(page);
    applyChanges(page, areas.plan, [{ register: 'title', value: `Title ${++frames}` }]);
    const heard = person.sent.length;
    person.emit('message', Buffer.from(updateFrame(Y.encodeStateAsUpdate(page, before))));
    // Its own frames come in one turn of the loop here, and so wait for the next.
    await new Promise((resolve) => setImmediate(resolve));
    await elsewhere.settled;
    expect(person.sent.length).toBeGreaterThan(heard);
  };
  const codes = new Map<string, number>();
  for (let sent = 0; sent < 10_000; sent++) {
    const line = connect(room, { ...instructorGrant('b'), membership: `m${sent % 50}` });
    line.emit('message', Buffer.from(spoilt(fine[sent % fine.length]!, random)));
    const why = line.code === null ? 'taken or harmless' : (closingOf(line.code) ?? `code ${line.code}`);
    codes.set(why, (codes.get(why) ?? 0) + 1);
    if (line.code === null) line.close(1000);
    if (sent % 100 === 0) await served();
  }
  expect(room.isEmpty).toBe(true);
  expect(room.isOpen).toBe(true);
  expect([...codes.keys()].sort()).toEqual(
    expect.arrayContaining(['invalid', 'malformed', 'taken or harmless']),
  );
  // Nothing but what the protocol has a word for.
  for (const why of codes.keys())
    expect(['invalid', 'malformed', 'reload', 'tooLarge', 'taken or harmless']).toContain(why);
  expect(codes.get('malformed')).toBeGreaterThan(2_000);
  expect(problemsOf(room.doc, areas.plan)).toEqual([]);
  expect([room.doc.store.pendingStructs, room.doc.store.pendingDs]).toEqual([null, null]);
  expect(elsewhere.doc.getMap('registers').get('title')).toBe('Title 100');
}, 120_000);

/** A V1 update of one struct: `length` deleted elements of a client, from `clock` on (Yjs's own encoding). */
function jumping(client: number, clock: number, length: number): Uint8Array {
  return encoding.encode((encoder) => {
    encoding.writeVarUint(encoder, 1);
    encoding.writeVarUint(encoder, 1);
    encoding.writeVarUint(encoder, client);
    encoding.writeVarUint(encoder, clock);
    encoding.writeUint8(encoder, 0);
    encoding.writeVarUint(encoder, length);
    encoding.writeVarUint(encoder, 0);
  });
}

describe('forged frames, each on a line of its own', () => {
  let house: House;
  let board: string;
  let couple: string;
  let dj: string;
  let beside: ReturnType<typeof guest<'plan'>>;
  let written = 1;
  let nextClient = 2 ** 31;
  beforeAll(async () => {
    house = await openHouse();
    board = await makeBoard(house);
    couple = (await invite(house, board, 'couple')).cookie;
    dj = (await invite(house, board, 'dj')).cookie;
    const other = await makeBoard(house);
    const cookie = (await invite(house, other, 'couple')).cookie;
    beside = guest(house, { board: other, role: 'couple', cookie }, 'plan');
    await beside.synced();
  });
  afterAll(async () => {
    beside.leave();
    await house.end();
  });

  async function closing(path: string, cookie: string, ...frames: Uint8Array[]): Promise<Closing | null> {
    const socket = new WebSocket(`${house.address.replace('http', 'ws')}/sync/${board}/${path}`, {
      headers: { cookie },
    });
    await once(socket, 'open');
    for (const frame of frames) socket.send(frame);
    const [code] = (await once(socket, 'close')) as [number];
    return closingOf(code);
  }
  const update = (make: (doc: Y.Doc) => void): Uint8Array => {
    const doc = new Y.Doc();
    doc.clientID = nextClient++;
    make(doc);
    return updateFrame(Y.encodeStateAsUpdate(doc));
  };
  const title = (doc: Y.Doc) => void registersOf(doc).set('title', 'Forged');

  const rows: [string, Closing, () => Promise<Closing | null>][] = [
    [
      'an update of more than a board can hold',
      'tooLarge',
      () =>
        closing(
          'plan?as=couple',
          couple,
          update((doc) => void registersOf(doc).set('title', 'x'.repeat(8_500_000))),
        ),
    ],
    [
      'many that are too much together',
      'tooLarge',
      () => {
        const doc = new Y.Doc();
        const marks = Array.from({ length: 12 }, (_, index) => {
          const before = Y.encodeStateVector(doc);
          const mark = new Y.Map<unknown>();
          doc.getMap('marks').set(`m${index}`, mark);
          const fields = {
            name: 'm',
            by: 'x',
            at: '2031-05-01T10:00:00.000Z',
            state: `${index}`.repeat(900_000),
          };
          for (const [field, value] of Object.entries(fields)) mark.set(field, value);
          return updateFrame(Y.encodeStateAsUpdate(doc, before));
        });
        return closing('plan?as=couple', couple, ...marks);
      },
    ],
    [
      'a clock that jumps by 2^50',
      'malformed',
      () => closing('plan?as=couple', couple, updateFrame(jumping(9, 0, 2 ** 50))),
    ],
    [
      'a clock out of nowhere',
      'invalid',
      () => closing('plan?as=couple', couple, step2Frame(jumping(9, 5000, 1))),
    ],
    [
      'four thousand roots',
      'invalid',
      () =>
        closing(
          'plan?as=couple',
          couple,
          update((doc) => {
            for (let root = 0; root < 4000; root++) doc.getMap(`root ${root}`).set('a', 1);
          }),
        ),
    ],
    [
      'words under the client id of somebody else',
      'invalid',
      async () => {
        const real = guest(house, { board, role: 'couple', cookie: couple }, 'plan');
        await real.synced();
        real.write({ register: 'venue', value: 'Mill' });
        await real.acknowledged(2);
        const forged = new Y.Doc();
        Y.applyUpdate(forged, Y.encodeStateAsUpdate(real.doc));
        forged.clientID = real.doc.clientID;
        real.leave();
        const before = Y.encodeStateVector(forged);
        title(forged);
        const instructor = (await invite(house, board, 'instructor')).cookie;
        return closing('plan?as=instructor', instructor, updateFrame(Y.encodeStateAsUpdate(forged, before)));
      },
    ],
    ["another's area", 'noRight', () => closing('plan?as=dj', dj, update(title))],
    ['an area that may not even be read', 'noRight', () => closing('lessons?as=dj', dj, update(title))],
    ['a role that was not given', 'unknown', () => closing('plan?as=instructor', dj, update(title))],
    ['an area that there is not', 'gone', () => closing('everything?as=dj', dj)],
    ['a path that goes on', 'gone', () => closing('plan/../plan/x?as=dj', dj)],
  ];

  test.each(rows)('%s closes it as %s, and the person next door is served', async (_what, why, act) => {
    expect(await act()).toBe(why);
    beside.write({ register: 'title', value: `Next door ${written}` });
    await beside.acknowledged(++written);
    const read = await house.running.services.boards.read(board, 'crew');
    expect(read.ok && read.value.plan.title).toBeNull();
  });

  test('a flood of frames waits its turn, and the person next door does not', async () => {
    const socket = new WebSocket(`${house.address.replace('http', 'ws')}/sync/${board}/plan?as=couple`, {
      headers: { cookie: couple },
    });
    await once(socket, 'open');
    // More than one reading of the socket takes in at once.
    for (let frame = 0; frame < 50_000; frame++) socket.send(Uint8Array.of(3));
    let answers = 0;
    socket.on('message', () => {
      answers += 1;
    });
    beside.write({ register: 'title', value: 'In the flood' });
    await beside.acknowledged(++written);
    expect(answers).toBeLessThan(50_000);
    socket.terminate();
  });
});
