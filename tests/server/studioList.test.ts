import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'libsql';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { applyChanges } from '../../lib/board/area.ts';
import { newArea } from '../../lib/board/layout.ts';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';
import { emptyBoard } from '../../lib/core/areas/empty.ts';
import type { Day } from '../../lib/core/calendar.ts';
import { boardsAnswer, historyAnswer, readableAnswer, takeBackAnswer } from '../../lib/protocol/api.ts';
import { closings } from '../../lib/protocol/close.ts';
import { DATABASE, openEmbeddedStore } from '../../lib/store/embedded/open.ts';
import type { Store } from '../../lib/store/store.ts';
import { boardService } from '../../server/services/boards.ts';
import { AreaApart } from '../../server/sync/apart.ts';
import { Rooms } from '../../server/sync/rooms.ts';
import { spoilRemarks } from '../kit/hopeless.ts';
import { type Asked, askAt, setUpStudio } from './asking.ts';
import { guest } from './guest.ts';
import { type House, invite, makeBoard, openHouse } from './house.ts';

const NOW = () => new Date('2031-05-01T10:00:00.000Z');
const silent = { info: () => undefined, error: () => undefined };

/** Rooms that note what is read of them, and in which some boards' areas cannot be. */
class Watched extends Rooms {
  readonly asked: string[] = [];
  broken: (board: string, area: AreaName) => Error | null = () => null;

  override read<A extends AreaName>(board: string, area: A) {
    this.asked.push(board);
    const error = this.broken(board, area);
    return error === null ? super.read(board, area) : Promise.reject(error);
  }
}

describe('a studio of 130 couples', () => {
  let folder: string;
  let store: Store;
  /** As in a process that has read nothing yet. */
  const fresh = (program: string | null = null, now = NOW) => {
    const rooms = new Watched(store, silent);
    return {
      rooms,
      boards: boardService(store, rooms, {
        clock: now,
        log: silent,
        program,
        onRemoved: async () => undefined,
      }),
    };
  };
  const dated = (one: string, other: string, date: Day | null) => {
    const board = emptyBoard();
    const couple = {
      one: { name: one, part: 'lead' as const },
      other: { name: other, part: 'follow' as const },
    };
    return fresh().boards.makeFrom({ ...board, plan: { ...board.plan, couple, date } });
  };
  const ids: string[] = [];

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'larkstep-list-'));
    store = await openEmbeddedStore(folder);
    const two = (n: number) => String(n).padStart(2, '0');
    const all: [string, string, Day | null][] = [
      ...Array.from({ length: 60 }, (_, i): [string, string, Day] => [
        `Coming ${two(i)}`,
        'Zoë',
        `2031-${two(6 + Math.floor(i / 28))}-${two(1 + (i % 28))}` as Day,
      ]),
      ...Array.from({ length: 10 }, (_, i): [string, string, null] => [`Open ${two(i)}`, 'Ida', null]),
      ...Array.from({ length: 60 }, (_, i): [string, string, Day] => [
        `Danced ${two(i)}`,
        'Tomas',
        `2030-${two(12 - Math.floor(i / 28))}-${two(28 - (i % 28))}` as Day,
      ]),
    ];
    // In no order of theirs.
    for (const words of all.toReversed()) {
      const made = await dated(...words);
      if (!made.ok) throw new Error(made.problem.sentence);
      ids.unshift(made.value);
    }
  });
  afterAll(async () => {
    await store.close();
    await rm(folder, { recursive: true });
  });

  test('is told a page at a time, the nearest first and those danced last, the latest of them first', async () => {
    const { boards } = fresh();
    const told: string[] = [];
    for (let from = 0; from < 150; from += 50) {
      const page = await boards.list('UTC', { from, count: 50 });
      expect(page.total).toBe(130);
      told.push(...page.boards.map(({ id }) => id));
    }
    expect(told).toEqual(ids);
    expect(await boards.list('UTC', { from: 500, count: 50 })).toEqual({ boards: [], total: 130 });
  });

  test('opens the boards of the page alone, and those only once', async () => {
    const { rooms, boards } = fresh();
    await boards.list('UTC', { from: 50, count: 50 });
    expect([...new Set(rooms.asked)].sort()).toEqual(ids.slice(50, 100).sort());
    rooms.asked.length = 0;
    await boards.list('UTC', { from: 50, count: 50 });
    expect(rooms.asked).toEqual([]);
  });

  test('opens none that the same program told of on the same day, in another process', async () => {
    const first = await fresh('one').boards.list('UTC', { from: 0, count: 50 });
    const again = fresh('one');
    expect(await again.boards.list('UTC', { from: 0, count: 50 })).toEqual(first);
    expect(again.rooms.asked).toEqual([]);
    const tomorrow = () => new Date('2031-05-02T00:00:00.000Z');
    for (const { rooms, boards } of [fresh('another'), fresh('one', tomorrow), fresh()]) {
      await boards.list('UTC', { from: 0, count: 50 });
      expect(new Set(rooms.asked).size).toBe(50);
    }
  });

  test('is searched by name over all pages, whatever the accents and capitals', async () => {
    const { boards } = fresh();
    const named = async (words: string) =>
      (await boards.list('UTC', { from: 0, count: 5, named: words })).total;
    expect(await named('zoe')).toBe(60);
    expect(await named('DANCED 59')).toBe(1);
    expect(await named('59 tomas')).toBe(1);
    expect(await named('tomas zoe')).toBe(0);
    expect(await named('')).toBe(130);
  });

  test('is in order again after a new day for a dance, and in a process that has never read it', async () => {
    const made = await dated('Late', 'Pair', '2033-01-01');
    if (!made.ok) throw new Error(made.problem.sentence);
    const rooms = new Rooms(store, silent);
    const room = await rooms.enter(made.value, 'plan');
    const doc = newArea(areas.plan);
    Y.applyUpdate(doc, Y.encodeStateAsUpdate(room.doc));
    const updates: Uint8Array[] = [];
    doc.on('update', (update: Uint8Array) => updates.push(update));
    applyChanges(doc, areas.plan, [{ register: 'date', value: '2031-05-02' }]);
    const written = room.write(updates[0]!, { membership: 'm', role: 'instructor' }, null);
    if (!written.ok) throw new Error(written.problem.sentence);
    await written.value;
    await rooms.stop();
    const page = await fresh().boards.list('UTC', { from: 0, count: 1 });
    expect(page.boards[0]).toMatchObject({ id: made.value, date: '2031-05-02' });
    await fresh().boards.remove(made.value);
  });

  test('is told without what was noted, as of a data folder of before', async () => {
    await store.boards.note(ids.map((id) => ({ id, listed: '{}' })));
    const page = await fresh().boards.list('UTC', { from: 0, count: 50 });
    expect(page.boards.map(({ id }) => id)).toEqual(ids.slice(0, 50));
    const again = await store.boards.list();
    expect(again.every(({ listed }) => listed?.includes('"one"'))).toBe(true);
  });

  test('stands though one of its boards was set apart, and says so of that one', async () => {
    const { rooms, boards } = fresh();
    rooms.broken = (board, area) =>
      board === ids[3] && area === 'remarks' ? new AreaApart(area, 'it is damaged') : null;
    const page = await boards.list('UTC', { from: 0, count: 50 });
    expect(page.boards.map(({ id }) => id)).toEqual(ids.slice(0, 50));
    expect(page.boards[3]).toMatchObject({ one: 'Coming 03', other: 'Zoë', lacks: [], owed: [] });
    expect(page.boards[3]!.apart).toBe(
      'A part of this board is damaged and was set apart: its history leads back.',
    );
    expect(page.boards.filter(({ apart }) => apart !== null)).toHaveLength(1);
    // Once it is mended, though nothing was written.
    rooms.broken = () => null;
    expect((await boards.list('UTC', { from: 3, count: 1 })).boards[0]).toMatchObject({ apart: null });
  });

  test('names a couple whose plan cannot be read as it was noted when it could', async () => {
    const { rooms, boards } = fresh();
    rooms.broken = (board) => (board === ids[3] ? new Error('whatever it may be') : null);
    const { boards: found } = await boards.list('UTC', { from: 3, count: 1 });
    expect(found[0]).toMatchObject({ id: ids[3], one: 'Coming 03', other: 'Zoë', date: '2031-06-04' });
    expect(found[0]!.apart).toContain('cannot be read just now');
    expect(await boards.read(ids[4]!, 'instructor')).toMatchObject({ ok: true });
  });

  test('answers a board that was set apart with a sentence, where a paper of it is asked for', async () => {
    const { rooms, boards } = fresh();
    rooms.broken = (_, area) => (area === 'remarks' ? new AreaApart(area, 'it is damaged') : null);
    expect(await boards.read(ids[3]!, 'instructor')).toMatchObject({ ok: false, problem: { code: 'apart' } });
    // Who may not read what is damaged is not kept from the rest.
    expect(await boards.read(ids[3]!, 'crew')).toMatchObject({ ok: true });
  });
});

describe('what the server tells', () => {
  let house: House;
  beforeAll(async () => {
    house = await openHouse({ idleMs: 1 });
  });
  afterAll(() => house.end());

  test('a board of which a part cannot be opened is said to be so, and led back to an earlier hour', async () => {
    const [bad, good] = [await makeBoard(house), await makeBoard(house)];
    const { cookie, id } = await invite(house, bad, 'dj');
    const one = guest(house, { board: bad, role: 'dj', cookie }, 'remarks');
    await one.synced();
    const fields = {
      writer: id,
      name: 'Pia',
      role: 'dj',
      at: '2031-05-01T10:00:00.000Z',
      about: '',
    } as const;
    one.write({ collection: 'remarks', id: 'r1', fields });
    await one.saved();
    one.leave();
    await house.running.stop();
    spoilRemarks(house.folder, bad);
    await house.start();
    const ask = (path: string, asked: Asked) => askAt(house, path, asked);
    const instructor = await setUpStudio(house);
    const told = async (path: string, init = {}) => {
      const response = await ask(path, { cookie: instructor, ...init });
      return { status: response.status, body: await response.json() };
    };

    const list = await told('/api/boards');
    const rows = boardsAnswer.parse(list.body).boards;
    expect(rows.find((row) => row.id === bad)).toMatchObject({ one: 'Ida', other: 'Tomas', venue: 'Mill' });
    expect(rows.filter(({ apart }) => apart !== null).map((row) => row.id)).toEqual([bad]);
    const paper = (board: string) => `/api/boards/${board}/papers/board.json?as=instructor`;
    expect(await told(paper(bad))).toMatchObject({
      status: 503,
      body: { sentence: closings.apart.sentence },
    });
    expect((await told(paper(good))).status).toBe(200);
    expect(await told('/health')).toMatchObject({
      status: 200,
      body: { healthy: true, boards: 'a part of one board is set apart' },
    });

    const address = `/api/boards/${bad}/history`;
    const history = historyAnswer.parse((await told(`${address}?as=instructor`)).body);
    expect(history).toMatchObject({ one: 'Ida', other: 'Tomas', apart: ['remarks'] });
    expect(history.hours).toMatchObject([{ area: 'remarks', by: { link: id, role: 'dj' } }]);
    expect(history.links.map((link) => link.id)).toContain(id);
    const readable = readableAnswer.parse((await told(`${address}/readable?as=instructor`)).body);
    expect(readable.earlier.map(({ area }) => area)).toEqual(['remarks']);
    const json = { area: 'remarks', at: history.hours[0]!.at };
    expect((await ask(`${address}/restore?as=dj`, { method: 'POST', cookie, json })).status).toBe(403);
    expect((await ask(`${address}?as=dj`, { cookie })).status).toBe(403);
    expect((await told(`${address}/restore?as=instructor`, { method: 'POST', json })).status).toBe(200);

    const again = guest(house, { board: bad, role: 'dj', cookie }, 'remarks');
    await again.synced();
    expect(again.read().remarks.map(({ name }) => name)).toEqual(['Pia']);
    again.leave();
    const after = boardsAnswer.parse((await told('/api/boards')).body).boards;
    expect(after.every(({ apart }) => apart === null)).toBe(true);
    const link = { link: id, since: '2000-01-01T00:00:00.000Z' };
    const takenBack = await told(`${address}/take-back?as=instructor`, { method: 'POST', json: link });
    expect(takeBackAnswer.parse(takenBack.body).undone + takenBack.body.left.length).toBeGreaterThan(0);
  });

  test('a plan whose every byte is spoilt leaves the list, with the names that were noted', async () => {
    const { services } = house.running;
    const [bad, good] = [
      await services.boards.make({ one: 'Ava', other: 'Noor', date: '2031-06-14', venue: '' }),
      await services.boards.make({ one: 'Ida', other: 'Tomas', date: '2031-06-15', venue: '' }),
    ];
    await house.running.stop();
    const db = new Database(join(house.folder, DATABASE));
    db.prepare(`UPDATE updates SET bytes = ? WHERE board = ? AND area = 'plan'`).run([
      Buffer.alloc(40, 255),
      bad,
    ]);
    db.close();
    await house.start();
    const { boards } = await house.running.services.boards.list('UTC', { from: 0, count: 50 });
    const there = boards.filter(({ id }) => id === bad || id === good);
    expect(there.map(({ id, one }) => [id, one])).toEqual([
      [bad, 'Ava'],
      [good, 'Ida'],
    ]);
    const { cookie } = await invite(house, good, 'couple');
    const one = guest(house, { board: good, role: 'couple', cookie }, 'plan');
    await one.synced();
    one.leave();
  });
});
