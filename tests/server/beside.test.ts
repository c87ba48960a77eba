import { beforeEach, describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { applyChanges, readArea } from '../../lib/board/area.ts';
import { newArea } from '../../lib/board/layout.ts';
import { areaUpdate } from '../../lib/board/write.ts';
import { entryFacts } from '../../lib/core/agreed/entry.ts';
import { currentDigest } from '../../lib/core/agreed/played.ts';
import type { AreaData, AreaShape } from '../../lib/core/areas/area.ts';
import { type AreaName, areas, type Board } from '../../lib/core/areas/board.ts';
import type { Change } from '../../lib/core/areas/change.ts';
import type { Instant } from '../../lib/core/calendar.ts';
import type { Closing } from '../../lib/protocol/close.ts';
import type { Store, StoredArea } from '../../lib/store/store.ts';
import { judging } from '../../server/sync/judging.ts';
import type { Member, Room } from '../../server/sync/room.ts';
import { Rooms } from '../../server/sync/rooms.ts';
import { boardOf, cueAt } from '../kit/board.ts';

const IDLE_MS = 5;
const planner = { membership: 'm-planner', role: 'planner' } as const;
const couple = { membership: 'm-couple', role: 'couple' } as const;
const dj = { membership: 'm-dj', role: 'dj' } as const;
const board = boardOf();

/** Keeps what it is given, in memory; an area may be out of order, or slow. */
class Kept {
  readonly updates = new Map<string, Uint8Array[]>();
  readonly broken = new Set<string>();
  readonly loads: string[] = [];
  before: (area: string) => Promise<void> = async () => undefined;

  readonly store = {
    areas: {
      load: async (_board: string, area: string): Promise<StoredArea> => {
        this.loads.push(area);
        await this.before(area);
        if (this.broken.has(area)) throw new Error('unreadable');
        const updates = [...(this.updates.get(area) ?? [])];
        return { updates, head: updates.length, loose: updates.length, claims: [] };
      },
      append: async (_board: string, area: string, update: Uint8Array): Promise<number> => {
        if (this.broken.has(area)) throw new Error('disk full');
        const updates = [...(this.updates.get(area) ?? []), update];
        this.updates.set(area, updates);
        return updates.length;
      },
    },
    links: { everOf: async () => [] },
  } as unknown as Store;
}

class Guest implements Member {
  closed: Closing | null = null;
  constructor(readonly room: Room) {
    room.join(this);
  }
  send(): void {}
  close(closing: Closing): void {
    this.closed = closing;
    this.leave();
  }
  leave(): void {
    this.room.leave(this);
    rooms.waitForIdle(this.room);
  }
}

let kept: Kept;
/** What is loaded, and when, is told by the test. */
const UNAUDITED = { each: Number.POSITIVE_INFINITY, share: 0, long: 500 };
let rooms: Rooms;
beforeEach(() => {
  kept = new Kept();
  kept.updates.set('plan', [areaUpdate(areas.plan, board.plan)]);
  rooms = new Rooms(
    kept.store,
    { info: () => undefined, error: () => undefined },
    IDLE_MS,
    undefined,
    undefined,
    UNAUDITED,
  );
});

const enter = async (area: AreaName): Promise<Guest> => new Guest(await rooms.enter('b', area));
const isOpen = async (area: AreaName): Promise<boolean> => (await rooms.find('b', area)) !== null;
const idle = () => new Promise((resolve) => setTimeout(resolve, 4 * IDLE_MS));

function write<A extends AreaName>(
  room: Room,
  area: A,
  writer: Parameters<Room['write']>[1],
  ...changes: Change<(typeof areas)[A]>[]
) {
  const shape: (typeof areas)[A] = areas[area];
  const doc = newArea(shape);
  Y.applyUpdate(doc, Y.encodeStateAsUpdate(room.doc));
  const before = Y.encodeStateVector(doc);
  applyChanges(doc, shape, changes);
  return room.write(Y.encodeStateAsUpdate(doc, before), writer, null);
}
const finalOf = (of: Board, at: Instant = '2031-05-01T10:00:00.000Z') => {
  const { digest, facts } = entryFacts(of);
  return { register: 'final' as const, value: { digest, facts, at, by: 'Pia' } };
};
const stale = finalOf({ ...board, plan: { ...board.plan, venue: 'Barn' } });

describe('the rooms beside one', () => {
  test('are open before anybody is let in, and not opened where nothing is agreed', async () => {
    let letPlan: () => void = () => undefined;
    kept.before = (area) =>
      area === 'plan' ? new Promise<void>((resolve) => (letPlan = resolve)) : Promise.resolve();
    let isIn = false;
    const entering = enter('show').then((guest) => {
      isIn = true;
      return guest;
    });
    await idle();
    expect([isIn, kept.loads.sort()]).toEqual([false, ['answer', 'plan', 'show']]);
    letPlan();
    expect(write((await entering).room, 'show', planner, stale)).toMatchObject({
      problem: { code: 'not current' },
    });
    kept.before = async () => undefined;
    await enter('lessons');
    await enter('plan');
    expect(rooms.count).toBe(4);
  });

  test('stay while somebody is in it, and go when nobody is, though two keep each other', async () => {
    const [show, answer] = [await enter('show'), await enter('answer')];
    const plan = await enter('plan');
    plan.leave();
    show.leave();
    await idle();
    expect([rooms.count, await isOpen('plan'), await isOpen('show')]).toEqual([3, true, true]);
    answer.leave();
    await idle();
    expect(rooms.count).toBe(0);
  });

  test('go when whoever was to come did not', async () => {
    await rooms.enter('b', 'answer');
    expect(rooms.count).toBe(3);
    await idle();
    expect(rooms.count).toBe(0);
  });

  test('go when the one that they were opened for cannot be', async () => {
    kept.broken.add('show');
    await expect(enter('show')).rejects.toThrow('unreadable');
    await idle();
    expect(rooms.count).toBe(0);
  });

  test('that cannot be opened keep nobody out; a word is let through until they are there', async () => {
    kept.broken.add('plan');
    const show = await enter('show');
    expect(write(show.room, 'show', planner, stale).ok).toBe(true);
    await idle();
    expect(await isOpen('plan')).toBe(false);
    kept.broken.clear();
    // Whatever is said next begins to open it again.
    expect(write(show.room, 'show', planner, { register: 'final', value: null }).ok).toBe(true);
    await idle();
    expect(await isOpen('plan')).toBe(true);
    expect(write(show.room, 'show', planner, stale)).toMatchObject({ problem: { code: 'not current' } });
    show.leave();
    await idle();
    expect(rooms.count).toBe(0);
  });

  test('that have failed are opened anew, with what is kept', async () => {
    const [show, plan] = [await enter('show'), await enter('plan')];
    kept.broken.add('plan');
    const lost = write(plan.room, 'plan', couple, { register: 'venue', value: 'Barn' });
    if (!lost.ok) throw new Error(lost.problem.sentence);
    await expect(lost.value).rejects.toThrow('disk full');
    expect([plan.closed, show.closed, await isOpen('plan')]).toEqual(['failed', null, false]);
    kept.broken.clear();
    expect(write(show.room, 'show', planner, stale).ok).toBe(true);
    await idle();
    const anew = await rooms.find('b', 'plan');
    expect(readArea(anew!.doc, areas.plan).venue).toBe(board.plan.venue);
    const again = finalOf(
      { ...board, plan: { ...board.plan, venue: 'Barn' } },
      '2031-05-01T11:00:00.000Z' as const,
    );
    expect(write(show.room, 'show', planner, again)).toMatchObject({ problem: { code: 'not current' } });
    expect(write(show.room, 'show', planner, finalOf(board)).ok).toBe(true);
    show.leave();
    await idle();
    expect(rooms.count).toBe(0);
  });

  test('end with the board, and with the server, whoever is in', async () => {
    for (const [end, closing] of [
      [() => rooms.drop('b'), 'gone'],
      [() => rooms.stop(), 'stopping'],
    ] as const) {
      const guests = [await enter('show'), await enter('answer'), await enter('plan')];
      await end();
      expect(rooms.count).toBe(0);
      expect(guests.map(({ closed }) => closed)).toEqual([closing, closing, closing]);
      await idle();
      expect(rooms.count).toBe(0);
    }
  });

  test('that are being opened while the server stops end, too', async () => {
    let slow: () => void = () => undefined;
    kept.before = (area) =>
      area === 'plan' ? new Promise<void>((resolve) => (slow = resolve)) : Promise.resolve();
    const entering = rooms.enter('b', 'show');
    const stopping = rooms.stop();
    await idle();
    slow();
    await stopping;
    expect([(await entering).isOpen, rooms.count]).toEqual([false, 0]);
  });
});

describe('what arrives is judged', () => {
  const data = (of: Board, area: AreaName) => of[area] as unknown as AreaData<AreaShape>;
  const whole: Board = { ...board, show: { ...board.show!, final: null } };
  const tried = (area: AreaName, after: Board, reads: { count: number }) => {
    const touched = Object.keys(areas[area].registers).concat(Object.keys(areas[area].collections));
    const changed = touched.filter(
      (name) => (data(whole, area) as never)[name] !== (data(after, area) as never)[name],
    );
    return {
      touched: changed,
      isSet: (name: string) => (data(after, area) as never)[name] !== null,
      read: () => {
        reads.count += 1;
        return { before: data(whole, area), after: data(after, area) };
      },
    };
  };
  const beside = (area: AreaName) => data(whole, area);
  const withPlan = (more: Partial<Board['plan']>): Board => ({ ...whole, plan: { ...whole.plan, ...more } });
  const spoken: Board = { ...whole, answer: { ...whole.answer!, plays: 'own copy' } };

  test('by the role of whoever sends it', () => {
    const judge = judging('answer', beside);
    const reads = { count: 0 };
    expect(judge(tried('answer', spoken, reads), 'dj')).toBeNull();
    expect(judge(tried('answer', spoken, reads), 'couple')).toMatchObject({ code: 'no right' });
    expect(reads.count).toBe(2);
  });

  test('with every area that it is judged by, or not at all', () => {
    const asked: AreaName[] = [];
    const judge = judging('answer', (area) => {
      asked.push(area);
      return area === 'plan' ? data(whole, 'plan') : null;
    });
    const reads = { count: 0 };
    expect(judge(tried('answer', spoken, reads), 'couple')).toBeNull();
    // Each is asked for, so that each begins to open.
    expect([asked, reads.count]).toEqual([['plan', 'show'], 0]);
  });

  test.each([
    ['a cue word', 'plan', withPlan({ cues: [{ id: 'c', at: 3, word: 'bell' } as never] })],
    ['a move', 'plan', withPlan({ placed: [{ id: 'p', move: 'box', at: 3, times: 1 } as never] })],
    ['the edit while nothing is settled', 'plan', withPlan({ edit: null })],
    ['notes for the evening', 'show', { ...whole, show: { ...whole.show!, notes: 'Haze.' } }],
    ['a level', 'lessons', { ...whole, lessons: { lessons: [], readiness: [], questions: [], drills: [] } }],
  ] satisfies [string, AreaName, Board][])('%s: nothing is read to judge it', (_what, area, after) => {
    const reads = { count: 0 };
    const judge = judging(area, () => {
      throw new Error('nothing beside is asked for');
    });
    expect(judge(tried(area, after, reads), 'couple')).toBeNull();
    expect(reads.count).toBe(0);
  });

  test('a frame of forty times the changes takes some forty times as long, not sixteen hundred', () => {
    const asked = {
      digest: currentDigest(board.plan)!,
      at: '2031-05-01T10:00:00.000Z' as const,
      by: '',
      answerBy: null,
    };
    const costOf = (count: number): number => {
      const cues = Array.from({ length: count }, (_, i) => cueAt(`c${10_000_000 + i}`, 3, 'bell'));
      const after = { ...board, plan: { ...board.plan, asked, cues } };
      const before = process.cpuUsage().user;
      expect(judging('plan', beside)(tried('plan', after, { count: 0 }), 'couple')).toBeNull();
      return process.cpuUsage().user - before;
    };
    costOf(500);
    const few = Math.max(...[1, 2, 3].map(() => costOf(500)));
    expect(costOf(20_000) / few).toBeLessThan(40 * 10);
  });

  test('in the step in which it is stored: what comes next in the same turn knows of it', async () => {
    const plan = await enter('plan');
    const settled = { by: 'Marta', at: '2031-05-01T10:00:00.000Z' as const, word: '' };
    const instructor = { membership: 'm', role: 'instructor' } as const;
    const edit = { register: 'edit', value: null } as const;
    // None of these waits for the store.
    const said = [
      write(plan.room, 'plan', instructor, { register: 'settled', value: settled }),
      write(plan.room, 'plan', couple, edit),
      write(plan.room, 'plan', couple, { register: 'settled', value: null }, edit),
    ];
    expect(said.map((one) => (one.ok ? 'taken' : one.problem.code))).toEqual(['taken', 'settled', 'taken']);
    await plan.room.settled;
    const doc = newArea(areas.plan);
    for (const update of kept.updates.get('plan')!) Y.applyUpdate(doc, update);
    expect(readArea(doc, areas.plan)).toEqual(readArea(plan.room.doc, areas.plan));
    expect(kept.updates.get('plan')).toHaveLength(3);
    const answer = await enter('answer');
    expect(write(answer.room, 'answer', dj, { register: 'plays', value: 'own copy' }).ok).toBe(true);
  });
});
