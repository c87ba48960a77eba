import { beforeEach, describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { applyChanges, readArea } from '../../lib/board/area.ts';
import { newArea, registersOf } from '../../lib/board/layout.ts';
import { areas } from '../../lib/core/areas/board.ts';
import type { Closing } from '../../lib/protocol/close.ts';
import type { Nodes } from '../../lib/store/nodes.ts';
import type { Store } from '../../lib/store/store.ts';
import { always } from '../../server/sync/audit.ts';
import type { Member, Room } from '../../server/sync/room.ts';
import { MISMATCH, Rooms } from '../../server/sync/rooms.ts';

const couple = { membership: 'm', role: 'couple' } as const;
let updates: Uint8Array[];
let head: number;
let compacted: Uint8Array[];
/** What the store does with the next update besides keeping it. */
let keep: (update: Uint8Array) => Uint8Array | null;
let logged: string[];
let tallied: string[];
let rooms: Rooms;
const store = {
  areas: {
    load: async () => ({ updates: [...updates], head, loose: updates.length, claims: [] }),
    append: async (_board: string, _area: string, update: Uint8Array) => {
      const kept = keep(update);
      if (kept) updates.push(kept);
      return ++head;
    },
    compact: async (_board: string, _area: string, _through: number, snapshot: Uint8Array) => {
      compacted.push(snapshot);
    },
  },
  links: { everOf: async () => [] },
} as unknown as Store;

class Watcher implements Member {
  closed: Closing | null = null;
  send(): void {}
  close(closing: Closing): void {
    this.closed = closing;
  }
}

function openRooms(nodes?: Nodes): Rooms {
  const log = { info: () => undefined, error: (event: string) => void logged.push(event) };
  return new Rooms(store, log, 1, nodes, (what, label) => void tallied.push(`${what} ${label}`), always);
}
beforeEach(() => {
  [updates, head, compacted, logged, tallied] = [[], 0, [], [], []];
  keep = (update) => update;
  rooms = openRooms();
});

const page = () => newArea(areas.plan);
function written(doc: Y.Doc, venue: string): Uint8Array {
  const before = Y.encodeStateVector(doc);
  applyChanges(doc, areas.plan, [{ register: 'venue', value: venue }]);
  return Y.encodeStateAsUpdate(doc, before);
}
async function write(room: Room, update: Uint8Array): Promise<void> {
  const result = room.write(update, couple, null);
  if (!result.ok) throw new Error(result.problem.sentence);
  await result.value;
}
async function ends(room: Room): Promise<void> {
  rooms.waitForIdle(room);
  await rooms.stop();
}

describe('an open area is held against what is stored', () => {
  test('all is well after hundreds of honest updates, and the snapshot is what the store gave back', async () => {
    const room = await rooms.enter('b', 'plan');
    const doc = page();
    for (let index = 0; index < 120; index++) await write(room, written(doc, `Barn ${index}`));
    await ends(room);
    expect([logged, tallied, compacted.length]).toEqual([[], [], 1]);
    const again = page();
    Y.applyUpdate(again, compacted[0]!);
    expect(readArea(again, areas.plan)).toEqual(readArea(doc, areas.plan));
  });

  test.each<[string, (update: Uint8Array) => Uint8Array | null]>([
    ['was lost', () => null],
    ['is another', () => Y.encodeStateAsUpdate(page())],
  ])(
    'what the store acknowledged and %s: everybody is sent back to what is stored, and no snapshot is made',
    async (_, lose) => {
      const room = await rooms.enter('b', 'plan');
      const member = new Watcher();
      room.join(member);
      const doc = page();
      await write(room, written(doc, 'Barn'));
      keep = (update) => {
        keep = (next) => next;
        return lose(update);
      };
      await write(room, written(doc, 'Lost'));
      for (let index = 0; member.closed === null && index < 60; index++) {
        const result = room.write(written(doc, `Mill ${index}`), couple, null);
        if (result.ok) await result.value.catch(() => undefined);
      }
      await rooms.stop();
      expect([member.closed, room.isOpen, compacted]).toEqual(['failed', false, []]);
      expect([logged[0], tallied[0]]).toEqual([MISMATCH, 'mismatches plan']);
    },
  );

  test('what stands in the room and was never stored is found as the room ends', async () => {
    const room = await rooms.enter('b', 'plan');
    await write(room, written(page(), 'Barn'));
    registersOf(room.doc).set('title', 'Never stored');
    await ends(room);
    expect([logged, tallied]).toEqual([[MISMATCH], ['mismatches plan']]);
  });

  test('a board that was removed is no mismatch', async () => {
    const room = await rooms.enter('b', 'plan');
    await write(room, written(page(), 'Barn'));
    [updates, head] = [[], 0];
    await rooms.drop('b');
    expect(logged).toEqual([]);
  });
});

describe('whatever throws on the way of a frame leaves what is stored, and nothing else', () => {
  const failing = () => {
    throw new Error('injected');
  };
  const steps: [string, (room: Room) => void][] = [
    ['the store, at once', () => Object.assign(store.areas, { append: failing })],
    ['the store, later', () => Object.assign(store.areas, { append: async () => failing() })],
    ['somebody who is told', (room) => room.join({ send: failing, close: () => undefined })],
    ['the reader', (room) => registersOf(room.doc).observe(failing)],
    ['whose it is', (room) => Object.assign(Reflect.get(room, 'owners'), { claims: failing })],
    ['the policy', (room) => Object.assign(room, { judge: failing })],
    ['what looks at the document afterwards', (room) => room.doc.on('afterTransaction', failing)],
    [
      'the making again',
      (room) => {
        room.doc.on('afterTransaction', failing);
        Object.assign(Reflect.get(room, 'guard'), { remade: failing });
      },
    ],
  ];
  const { append } = store.areas;
  test.each(steps)('%s', async (_, inject) => {
    const room = await rooms.enter('b', 'plan');
    const doc = page();
    await write(room, written(doc, 'Barn'));
    const other = new Watcher();
    room.join(other);
    inject(room);
    const result = room.write(written(doc, 'Tried'), couple, null);
    if (result.ok) await result.value.catch(() => undefined);
    Object.assign(store.areas, { append });
    const stored = page();
    for (const update of updates) Y.applyUpdate(stored, update);
    const { venue } = readArea(stored, areas.plan);
    if (room.isOpen) {
      expect(Y.encodeStateVector(room.doc)).toEqual(Y.encodeStateVector(stored));
      expect(readArea(room.doc, areas.plan).venue).toBe(venue);
      expect(room.read()).toMatchObject({ venue });
    } else {
      expect(other.closed).toBe('failed');
      expect(await rooms.read('b', 'plan')).toMatchObject({ venue });
    }
    await rooms.stop();
    expect(tallied).toEqual([]);
  });
});
