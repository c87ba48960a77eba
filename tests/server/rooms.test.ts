import { beforeEach, describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { applyChanges, readArea } from '../../lib/board/area.ts';
import { newArea } from '../../lib/board/layout.ts';
import { areas } from '../../lib/core/areas/board.ts';
import type { Closing } from '../../lib/protocol/close.ts';
import type { Store, StoredArea } from '../../lib/store/store.ts';
import { readFrame } from '../../server/sync/frames.ts';
import type { Member, Room } from '../../server/sync/room.ts';
import { Rooms } from '../../server/sync/rooms.ts';

/** Loads and commits wait until the test lets them go. */
class HeldStore {
  updates: Uint8Array[] = [];
  loads = 0;
  private onCompacted: (through: number) => void = () => undefined;
  /** Up to which update it was. */
  readonly compacted = new Promise<number>((resolve) => {
    this.onCompacted = resolve;
  });
  private readonly held: (() => void)[] = [];

  readonly store = {
    areas: {
      load: async (): Promise<StoredArea> => {
        this.loads += 1;
        const updates = [...this.updates];
        await new Promise<void>((resolve) => this.held.push(resolve));
        return { updates, head: updates.length, loose: updates.length, claims: [] };
      },
      append: (_board: string, _area: string, update: Uint8Array): Promise<number> =>
        new Promise((resolve, reject) => {
          this.held.push(() => {
            if (this.full) return reject(new Error('disk full'));
            resolve(this.updates.push(update));
          });
        }),
      compact: async (_board: string, _area: string, through: number, snapshot: Uint8Array) => {
        this.updates = [snapshot, ...this.updates.slice(through)];
        this.onCompacted(through);
      },
    },
    links: { everOf: async () => [] },
  } as unknown as Store;

  full = false;
  release(): void {
    for (const go of this.take()) go();
  }
  /** What waits, to be let go one by one. */
  take(): (() => void)[] {
    return this.held.splice(0);
  }
}

class Watcher implements Member {
  readonly heard: string[] = [];
  closed: Closing | null = null;
  send(frame: Uint8Array): void {
    this.heard.push(readFrame(frame)?.kind ?? 'other');
  }
  close(closing: Closing): void {
    this.closed = closing;
  }
}

const couple = { membership: 'm', role: 'couple' } as const;
const silent = { info: () => undefined, error: () => undefined };
/** What is loaded, and when, is told by the test. */
const UNAUDITED = { each: Number.POSITIVE_INFINITY, share: 0, long: 500 };
let held: HeldStore;
let rooms: Rooms;
beforeEach(() => {
  held = new HeldStore();
  rooms = new Rooms(held.store, silent, 5, undefined, undefined, UNAUDITED);
});

const venue = (name: string): Uint8Array => {
  const doc = newArea(areas.plan);
  applyChanges(doc, areas.plan, [{ register: 'venue', value: name }]);
  return Y.encodeStateAsUpdate(doc);
};
async function enter(): Promise<Room> {
  const entering = rooms.enter('b', 'plan');
  held.release();
  return entering;
}
function written(room: Room, update: Uint8Array, from: Member | null = null): Promise<void> {
  const result = room.write(update, couple, from);
  if (!result.ok) throw new Error(result.problem.sentence);
  return result.value;
}

/** Lets the store go on until this is done. */
async function reading(work: Promise<void>): Promise<void> {
  const timer = setInterval(() => held.release(), 1);
  await work.finally(() => clearInterval(timer));
}

describe('a room', () => {
  test('is loaded once, and nobody is let in before it is', async () => {
    held.updates.push(venue('Barn'));
    const entering = [rooms.enter('b', 'plan'), rooms.enter('b', 'plan')];
    expect(held.loads).toBe(1);
    held.release();
    const [one, other] = await Promise.all(entering);
    expect(one).toBe(other);
    expect(readArea(one!.doc, areas.plan).venue).toBe('Barn');
  });

  test('1, 2, 3: an update is sent on after its commit, and not to its sender', async () => {
    const room = await enter();
    const [sender, other] = [new Watcher(), new Watcher()];
    room.join(sender);
    room.join(other);
    const commit = written(room, venue('Barn'), sender);
    let settled = false;
    void room.settled.then(() => {
      settled = true;
    });
    await Promise.resolve();
    expect([other.heard, settled]).toEqual([[], false]);
    held.release();
    await commit;
    await room.settled;
    expect([sender.heard, other.heard, settled]).toEqual([[], ['update'], true]);
  });

  test('what was known already is acknowledged after what it rests on', async () => {
    const room = await enter();
    const update = venue('Barn');
    const order: string[] = [];
    const first = written(room, update).then(() => order.push('first'));
    const again = written(room, update).then(() => order.push('again'));
    held.release();
    await Promise.all([first, again]);
    expect(order).toEqual(['first', 'again']);
    expect(held.updates).toHaveLength(1);
  });

  test('4: ends when storing fails, and the next one holds only what is kept', async () => {
    const room = await enter();
    const member = new Watcher();
    room.join(member);
    const kept = written(room, venue('Barn'));
    held.release();
    await kept;
    held.full = true;
    const lost = written(room, venue('Lost'));
    held.release();
    await expect(lost).rejects.toThrow('disk full');
    expect([member.closed, room.isOpen, rooms.count]).toEqual(['failed', false, 0]);
    expect(room.write(venue('Later'), couple, null).ok).toBe(false);
    const next = await enter();
    expect(readArea(next.doc, areas.plan).venue).toBe('Barn');
  });

  test('5: what another node has stored in between is read and sent on, once', async () => {
    const room = await enter();
    const [sender, other] = [new Watcher(), new Watcher()];
    room.join(sender);
    room.join(other);
    held.updates.push(venue('Stored elsewhere'));
    const commit = written(room, venue('Barn'), sender);
    held.release();
    await commit;
    expect([room.at, other.heard]).toEqual([0, ['update']]);
    await reading(room.follow());
    expect([room.at, sender.heard, other.heard]).toEqual([2, ['update'], ['update', 'update']]);
    await reading(room.follow());
    expect(other.heard).toHaveLength(2);
    const doc = newArea(areas.plan);
    for (const update of held.updates) Y.applyUpdate(doc, update);
    expect(readArea(room.doc, areas.plan)).toEqual(readArea(doc, areas.plan));
  });

  test('5: ends when what another node has stored builds on something that is missing', async () => {
    const room = await enter();
    const member = new Watcher();
    room.join(member);
    const doc = newArea(areas.plan);
    applyChanges(doc, areas.plan, [{ register: 'venue', value: 'Never stored' }]);
    const before = Y.encodeStateVector(doc);
    applyChanges(doc, areas.plan, [{ register: 'venue', value: 'Barn' }]);
    held.updates.push(Y.encodeStateAsUpdate(doc, before));
    await reading(room.follow());
    expect([room.isOpen, member.closed, member.heard]).toEqual([false, 'failed', []]);
  });

  test('is let go when it was empty for a while, with a snapshot in place of a long log', async () => {
    const room = await enter();
    const member = new Watcher();
    room.join(member);
    for (let index = 0; index < 60; index++) {
      const commit = written(room, venue(`Barn ${index}`));
      held.release();
      await commit;
    }
    const before = readArea(room.doc, areas.plan);
    room.leave(member);
    rooms.waitForIdle(room);
    await reading(held.compacted.then((through) => expect(through).toBe(60)));
    expect([rooms.count, held.updates.length]).toEqual([0, 1]);
    expect(readArea((await enter()).doc, areas.plan)).toEqual(before);
  });

  test('puts a snapshot in place of a long log while people write, of what is stored only', async () => {
    const room = await enter();
    room.join(new Watcher());
    const many = room.manyLoose;
    for (let index = 1; index < many; index++) {
      const commit = written(room, venue(`Barn ${index}`));
      held.release();
      await commit;
    }
    const last = written(room, venue('The last barn'));
    const [letLast] = held.take();
    const pending = written(room, venue('Not stored yet'));
    letLast!();
    await last;
    await Promise.resolve();
    expect(held.updates).toHaveLength(many);
    await reading(held.compacted.then((through) => expect(through).toBe(many + 1)));
    await pending;
    expect([room.isOpen, held.updates.length]).toEqual([true, 1]);
    const after = written(room, venue('After'));
    held.release();
    await after;
    const doc = newArea(areas.plan);
    for (const update of held.updates) Y.applyUpdate(doc, update);
    expect(Y.encodeStateVector(doc)).toEqual(Y.encodeStateVector(room.doc));
    expect(readArea(doc, areas.plan)).toEqual(readArea(room.doc, areas.plan));
  });

  test('waits for its last commit before it is let go', async () => {
    const room = await enter();
    void written(room, venue('Barn'));
    const stopping = rooms.stop();
    let stopped = false;
    void stopping.then(() => {
      stopped = true;
    });
    await Promise.resolve();
    expect(stopped).toBe(false);
    held.release();
    await stopping;
    expect(held.updates).toHaveLength(1);
  });
});

describe('what another node has stored', () => {
  const told = (number: number, name: string) => ({
    number,
    update: venue(name),
    claims: [],
  });

  test('and told whole is taken without a look at the store, and sent on, where it is the next', async () => {
    const room = await enter();
    const member = new Watcher();
    room.join(member);
    const { loads } = held;
    await room.hearStored(told(1, 'Mill'));
    expect([room.at, held.loads - loads, member.heard]).toEqual([1, 0, ['update']]);
    expect(readArea(room.doc, areas.plan).venue).toBe('Mill');
  });

  test('is read where something lies between, or where it was not told', async () => {
    for (const message of [told(2, 'Barn'), { number: 1, update: null, claims: [] }]) {
      const room = await enter();
      const { loads } = held;
      held.updates = [venue('Mill'), venue('Barn')];
      const hearing = room.hearStored(message);
      held.release();
      await hearing;
      expect([room.at, held.loads - loads]).toEqual([2, 1]);
      held.updates = [];
      await rooms.drop('b');
    }
  });

  test('already is not taken again', async () => {
    const room = await enter();
    await room.hearStored(told(1, 'Mill'));
    await room.hearStored(told(1, 'Barn'));
    expect(readArea(room.doc, areas.plan).venue).toBe('Mill');
  });
});
