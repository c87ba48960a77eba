import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import Database from 'libsql';
import { afterAll, beforeAll, expect, test } from 'vitest';
import * as Y from 'yjs';
import { instructorGrant } from '../../lib/access/session.ts';
import { applyChanges, textOf } from '../../lib/board/area.ts';
import { newArea } from '../../lib/board/layout.ts';
import type { AreaShape } from '../../lib/core/areas/area.ts';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';
import type { Change } from '../../lib/core/areas/change.ts';
import type { Instant } from '../../lib/core/calendar.ts';
import { closings } from '../../lib/protocol/close.ts';
import { DATABASE, openEmbeddedStore } from '../../lib/store/embedded/open.ts';
import { migrations } from '../../lib/store/embedded/schema.ts';
import { hopeless } from '../kit/hopeless.ts';
import { guest } from './guest.ts';
import { type House, invite, makeBoard, openHouse } from './house.ts';

/** Of the tables, before what an area was came to be kept. */
const VERSION_BEFORE = 3;
const AT = '2027-05-02T10:00:00.000Z';

let house: House;
beforeAll(async () => {
  house = await openHouse({ idleMs: 1 });
});
afterAll(() => house.end());

/** The updates that one page after the other sent, as the version before stored them: unlooked at. */
class Written {
  readonly updates: Buffer[] = [];
  private readonly doc: Y.Doc;

  constructor(private readonly shape: AreaShape) {
    this.doc = newArea(shape);
  }

  write(work: (doc: Y.Doc) => void): this {
    const before = Y.encodeStateVector(this.doc);
    this.doc.transact(() => work(this.doc));
    this.updates.push(Buffer.from(Y.encodeStateAsUpdate(this.doc, before)));
    return this;
  }

  entry(collection: string, id: string, fields: object, ...content: (Y.XmlElement | Y.XmlText)[]): this {
    return this.write((doc) => {
      applyChanges(doc, this.shape, [{ collection, id, fields } as unknown as Change<AreaShape>]);
      textOf(doc, collection, id)?.insert(0, content);
    });
  }

  snapshotOf(count: number): Buffer {
    return Buffer.from(Y.mergeUpdates(this.updates.slice(0, count)));
  }
}

const paragraph = (words: string) => {
  const element = new Y.XmlElement('paragraph');
  element.insert(0, [new Y.XmlText(words)]);
  return element;
};
function nest(fragment: Y.XmlFragment, depth: number): void {
  let at = fragment;
  for (let level = 0; level < depth; level++) {
    const inner = new Y.XmlElement('blockquote');
    at.insert(0, [inner]);
    at = inner;
  }
}
function heading(level: unknown): Y.XmlElement {
  const element = new Y.XmlElement('heading');
  element.setAttribute('level', level as string);
  return element;
}
const remark = { writer: 'm', name: 'Ida', role: 'couple', at: AT, about: '' };
const remarks = () =>
  new Written(areas.remarks)
    .entry('remarks', 'first', remark, paragraph('Words of first'))
    .entry('remarks', 'odd', remark, new Y.XmlElement('constructor'), paragraph('Words of odd'))
    .entry('remarks', 'deep', remark, paragraph('Words of deep'))
    .write((doc) => nest(textOf(doc, 'remarks', 'deep')!, 3000))
    .entry('remarks', 'last', remark, paragraph('Words of last'));
const lessons = () =>
  new Written(areas.lessons)
    .entry(
      'lessons',
      'l1',
      { date: '2027-05-01', title: 'One', writtenAt: AT },
      heading(2n),
      paragraph('Box step'),
    )
    .entry('readiness', 'm1', { level: 2, at: AT });
const plan = (venue: string) =>
  new Written(areas.plan).write((doc) =>
    applyChanges(doc, areas.plan, [{ register: 'venue', value: venue }]),
  );

/** A data folder of the version before: its tables, and rows as that wrote them. */
function folderBefore(
  file: string,
  boards: Record<string, { written: [AreaName, Written][]; packed: number }>,
) {
  const db = new Database(file);
  for (const sql of migrations.slice(0, VERSION_BEFORE)) db.exec(sql);
  db.exec(`PRAGMA user_version = ${VERSION_BEFORE}`);
  for (const [board, { written, packed }] of Object.entries(boards)) {
    db.prepare('INSERT INTO boards VALUES (?, ?)').run([board, AT]);
    for (const [area, { updates, snapshotOf }] of written.map(
      ([name, one]) => [name, { updates: one.updates, snapshotOf: one.snapshotOf.bind(one) }] as const,
    )) {
      const through = Math.min(packed, updates.length);
      updates.forEach((update, index) => {
        db.prepare('INSERT INTO updates VALUES (?, ?, ?, ?)').run([board, area, index + 1, update]);
      });
      if (through === 0) continue;
      db.prepare('UPDATE areas SET snapshot = ?, through = ? WHERE board = ? AND area = ?').run([
        ...[snapshotOf(through), through, board, area],
      ]);
      db.prepare('DELETE FROM updates WHERE board = ? AND area = ? AND number <= ?').run([
        board,
        area,
        through,
      ]);
    }
  }
  db.close();
}

test('a folder that the version before let be damaged opens: what is bad is mended or set aside, and nothing else is lost', async () => {
  await house.running.stop();
  const file = join(house.folder, DATABASE);
  for (const end of ['', '-wal', '-shm']) await rm(file + end, { force: true });
  const damaged = (): [AreaName, Written][] => [
    ['plan', plan('Barn')],
    ['remarks', remarks()],
    ['lessons', lessons()],
  ];
  folderBefore(file, {
    well: { written: [['plan', plan('Mill')]], packed: 1 },
    loose: { written: damaged(), packed: 0 },
    packed: { written: damaged(), packed: 4 },
  });
  await house.start();

  const read = async (board: string) => {
    const found = await house.running.services.boards.read(board, 'instructor');
    if (!found.ok) throw new Error(found.problem.sentence);
    return found.value;
  };
  const look = async () => {
    expect((await read('well')).plan.venue).toBe('Mill');
    for (const board of ['loose', 'packed']) {
      const { plan, remarks, lessons } = await read(board);
      expect(plan.venue).toBe('Barn');
      const said = remarks!.remarks.map(({ id, text }) => [
        id,
        JSON.stringify(text).includes(`Words of ${id}`),
      ]);
      expect([board, said]).toEqual([board, ['deep', 'first', 'last', 'odd'].map((id) => [id, true])]);
      expect(JSON.stringify(lessons!.lessons)).toContain('Box step');
      expect(lessons!.readiness).toEqual([{ id: 'm1', level: 2, at: AT }]);
    }
  };
  await look();
  // As somebody opens them, what was mended is stored, and what was taken out is set aside.
  for (const board of ['loose', 'packed']) {
    const { cookie } = await invite(house, board, 'couple');
    for (const area of ['remarks', 'lessons'] as const) {
      const one = guest(house, { board, role: 'couple', cookie }, area);
      await one.synced();
      one.leave();
    }
  }
  await look();
  await house.restart();
  await look();
  await house.running.stop();
  const store = await openEmbeddedStore(house.folder);
  for (const board of ['loose', 'packed'])
    expect([board, (await store.areas.aside(board)).map(({ area }) => area).sort()]).toEqual([
      board,
      ['lessons', 'remarks', 'remarks'],
    ]);
  // Of the time before nothing is known, and that is said.
  expect(await store.areas.asOf('loose', 'plan', '2020-01-01T00:00:00.000Z')).toBeNull();
  expect(await store.areas.asOf('well', 'plan', new Date().toISOString())).not.toBeNull();
  await store.close();
  await house.start();
});

test('an area that is set apart is opened as of an earlier hour, and what can be read is taken along meanwhile', async () => {
  const board = await makeBoard(house);
  const { cookie, id } = await invite(house, board, 'couple');
  const as = { board, role: 'couple', cookie };
  const one = guest(house, as, 'remarks');
  await one.synced();
  const fields = { ...remark, writer: id };
  one.write({ collection: 'remarks', id: 'r1', fields: fields as never });
  await one.saved();
  await wait(3);
  const well = new Date().toISOString() as Instant;
  one.leave();
  await house.running.stop();
  const db = new Database(join(house.folder, DATABASE));
  const later = new Date(Date.now() + 1).toISOString();
  db.prepare(
    "UPDATE areas SET snapshot = ?, through = head, at = ? WHERE board = ? AND area = 'remarks'",
  ).run([...[Buffer.from(hopeless()), later, board]]);
  db.close();
  await house.start();

  const apart = guest(house, as, 'remarks');
  expect(await apart.closed).toBe(closings.apart.code);
  apart.leave();
  const { history } = house.running.services;
  const grant = instructorGrant(board);
  const readable = await history.readable(grant);
  expect(readable).toMatchObject({
    value: {
      file: { remarks: { remarks: [{ id: 'r1' }] }, plan: { couple: { one: { name: 'Ida' } } } },
      earlier: [{ area: 'remarks' }],
    },
  });
  expect(await history.restore(grant, 'remarks', '2020-01-01T00:00:00.000Z' as Instant)).toMatchObject({
    ok: true,
  });
  expect(await history.restore(grant, 'remarks', well)).toEqual({ ok: true, value: undefined });
  const again = guest(house, as, 'remarks');
  await again.synced();
  expect(again.read().remarks).toMatchObject([{ id: 'r1', ...fields }]);
  again.write({ collection: 'remarks', id: 'r2', fields: fields as never });
  await again.saved();
  again.leave();
  await house.running.stop();
  const store = await openEmbeddedStore(house.folder);
  expect(await store.areas.aside(board)).toMatchObject([
    { area: 'remarks', reason: expect.stringMatching(/^set apart: /) },
  ]);
  await store.close();
  await house.start();
});
