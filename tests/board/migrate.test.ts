import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import * as Y from 'yjs';
import { applyChanges, readArea, textOf } from '../../lib/board/area.ts';
import { problemsOf } from '../../lib/board/fits.ts';
import { AreaGuard } from '../../lib/board/guard.ts';
import { entriesOf, newArea, registersOf } from '../../lib/board/layout.ts';
import { ageOf, migrate } from '../../lib/board/migrate.ts';
import { migrations as released } from '../../lib/board/migrations/list.ts';
import type { Migration, RawArea } from '../../lib/board/migrations/migration.ts';
import { openArea } from '../../lib/board/open.ts';
import { writeRichText } from '../../lib/board/richText.ts';
import { entryFacts } from '../../lib/core/agreed/entry.ts';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';
import { hashOf } from '../../lib/core/edit/canonical.ts';
import { barAt, boardOf, endingOn, gridOf, libraryMove, sectionsOf } from '../kit/board.ts';

const AT = '2031-05-01T10:00:00.000Z';

/** A version that never was: lessons told their day as `day`, readiness had no time, and a register has gone. */
const madeUp: Migration = vi.hoisted(() => ({
  area: 'lessons',
  from: 0,
  lift: ({ collections }: RawArea): RawArea => ({
    registers: {},
    collections: {
      lessons: Object.fromEntries(
        Object.entries(collections.lessons ?? {}).map(([id, { day, ...rest }]) => [
          id,
          { ...rest, date: day },
        ]),
      ),
      readiness: Object.fromEntries(
        Object.entries(collections.skills ?? {}).map(([id, fields]) => [
          id,
          { ...fields, at: '2031-05-01T10:00:00.000Z' },
        ]),
      ),
    },
  }),
}));
vi.mock('../../lib/board/migrations/list.ts', async (original) => ({
  migrations: [...((await original()) as { migrations: Migration[] }).migrations, madeUp],
}));

/** A document as that version wrote it. */
function olderLessons(): Y.Doc {
  const doc = newArea(areas.lessons);
  doc.transact(() => {
    registersOf(doc).set('version', 0);
    registersOf(doc).set('teacher', 'Rosa');
    const lesson = new Y.Map<unknown>();
    entriesOf(doc, 'lessons').set('l1', lesson);
    lesson.set('day', '2031-05-02');
    lesson.set('title', 'First');
    lesson.set('writtenAt', AT);
    const text = new Y.XmlFragment();
    lesson.set('text', text);
    writeRichText(text, {
      type: 'doc',
      content: [{ type: 'paragraph', content: [{ type: 'text', text: 'Box' }] }],
    });
    const skill = new Y.Map<unknown>();
    entriesOf(doc, 'skills').set('m1', skill);
    skill.set('level', 2);
  });
  return doc;
}
const today = {
  lessons: [
    {
      id: 'l1',
      date: '2031-05-02',
      title: 'First',
      writtenAt: AT,
      text: { type: 'doc', content: [{ type: 'paragraph', content: [{ type: 'text', text: 'Box' }] }] },
    },
  ],
  readiness: [{ id: 'm1', level: 2, at: AT }],
  questions: [],
  drills: [],
};

describe('a document that an older version wrote', () => {
  test('reads in the shape of today, and stays as it was', () => {
    const doc = olderLessons();
    const before = Y.encodeStateAsUpdate(doc);
    expect(ageOf(doc, areas.lessons)).toBe('older');
    expect(readArea(doc, areas.lessons)).toEqual(today);
    expect(Y.encodeStateAsUpdate(doc)).toEqual(before);
  });

  test('is migrated by one change, after which there is nothing to do and everything fits', () => {
    const doc = olderLessons();
    const before = Y.encodeStateAsUpdate(doc);
    const change = migrate(doc, areas.lessons);
    const other = newArea(areas.lessons);
    Y.applyUpdate(other, before);
    Y.applyUpdate(other, change!);
    for (const one of [doc, other]) {
      expect(ageOf(one, areas.lessons)).toBe('same');
      expect(readArea(one, areas.lessons)).toEqual(today);
      expect([...registersOf(one).keys()]).toEqual(['version']);
    }
    expect(migrate(doc, areas.lessons)).toBeNull();
    expect(textOf(doc, 'lessons', 'l1')?.toString()).toContain('Box');
  });

  test('comes to one document where two servers migrate it at once', () => {
    const [one, other] = [olderLessons(), new Y.Doc()];
    Y.applyUpdate(other, Y.encodeStateAsUpdate(one));
    const [first, second] = [migrate(one, areas.lessons)!, migrate(other, areas.lessons)!];
    Y.applyUpdate(one, second);
    Y.applyUpdate(other, first);
    expect(readArea(one, areas.lessons)).toEqual(today);
    expect(readArea(other, areas.lessons)).toEqual(today);
  });

  test('opens migrated, and people write in it', () => {
    const opened = openArea(areas.lessons, [Y.encodeStateAsUpdate(olderLessons())]);
    expect([opened.unusable, opened.changes.length]).toEqual([[], 1]);
    const page = new Y.Doc();
    Y.applyUpdate(page, Y.encodeStateAsUpdate(opened.doc));
    const guard = new AreaGuard(areas.lessons, opened.doc);
    const before = Y.encodeStateVector(page);
    entriesOf(page, 'lessons').get('l1')!.set('title', 'The first');
    expect(guard.check(Y.encodeStateAsUpdate(page, before), { membership: 'm' })).toMatchObject({ ok: true });
    expect(readArea(guard.doc, areas.lessons).lessons[0]?.title).toBe('The first');
  });
});

describe('a plan of version 1, in which one name stood for all of a grid and one for all sections', () => {
  const { id, confirmedBy: _, ...section } = sectionsOf()[1]!;
  /** As that version wrote it. */
  function olderPlan(by: string | null, sectionsBy: string | null): Y.Doc {
    const doc = newArea(areas.plan);
    doc.transact(() => {
      const registers = registersOf(doc);
      registers.set('version', 1);
      registers.set('venue', 'Barn');
      registers.set('grid', { ...gridOf(), confirmedBy: by });
      if (sectionsBy !== null) registers.set('sectionsConfirmedBy', sectionsBy);
      const entry = new Y.Map<unknown>();
      entriesOf(doc, 'sections').set(id, entry);
      for (const [name, value] of Object.entries(section)) entry.set(name, value);
    });
    return doc;
  }
  const all = (by: string | null) => ({ metre: by, beats: by, bars: by });

  test.each([
    ['Rosa', 'Ilse', 'Rosa', 'Ilse'],
    ['Rosa', null, 'Rosa', null],
    [null, 'Ilse', null, 'Ilse'],
    ['', '', null, null],
  ])('“%s” and “%s” stand for each aspect and each section', (by, sectionsBy, ofGrid, ofSections) => {
    const today = {
      venue: 'Barn',
      grid: { ...gridOf(), confirmedBy: all(ofGrid) },
      sections: [{ ...section, id, confirmedBy: ofSections }],
    };
    const doc = olderPlan(by, sectionsBy);
    expect(readArea(doc, areas.plan)).toMatchObject(today);
    const opened = openArea(areas.plan, [Y.encodeStateAsUpdate(doc)]);
    expect([opened.unusable, opened.changes.length]).toEqual([[], 1]);
    expect(readArea(opened.doc, areas.plan)).toMatchObject(today);
    expect(registersOf(opened.doc).has('sectionsConfirmedBy')).toBe(false);
    expect(problemsOf(opened.doc, areas.plan)).toEqual([]);
  });

  test('what a page of today wrote into one that nobody has migrated yet stays as it is', () => {
    const doc = olderPlan('Rosa', 'Ilse');
    const grid = { ...gridOf(), confirmedBy: { metre: null, beats: 'Kim', bars: null } };
    applyChanges(doc, areas.plan, [
      { register: 'grid', value: grid },
      { collection: 'sections', id, fields: { confirmedBy: null } },
    ]);
    migrate(doc, areas.plan);
    expect(readArea(doc, areas.plan)).toMatchObject({ grid, sections: [{ id, confirmedBy: null }] });
  });
});

test('a document of a newer version reads as far as it is known, and nobody changes it', () => {
  const doc = newArea(areas.plan);
  registersOf(doc).set('version', areas.plan.version + 1);
  registersOf(doc).set('venue', 'Barn');
  registersOf(doc).set('fireworks', true);
  const opened = openArea(areas.plan, [Y.encodeStateAsUpdate(doc)]);
  expect([opened.unusable, opened.changes]).toEqual([[], []]);
  const guard = new AreaGuard(areas.plan, opened.doc);
  expect(readArea(guard.doc, areas.plan).venue).toBe('Barn');
  const before = Y.encodeStateVector(doc);
  registersOf(doc).set('venue', 'Mill');
  const refused = guard.check(Y.encodeStateAsUpdate(doc, before), { membership: 'm' });
  expect(refused).toMatchObject({ ok: false, problem: { code: 'version' } });
  expect(registersOf(guard.doc).get('fireworks')).toBe(true);
});

test('the list holds every migration of the folder, and they lead from the first version to that of today', async () => {
  const folder = join(import.meta.dirname, '..', '..', 'lib', 'board', 'migrations');
  const files = readdirSync(folder).filter((name) => !['list.ts', 'migration.ts'].includes(name));
  const listed = released.filter((one) => one !== madeUp);
  expect(listed.map(({ area, from }) => `${area}-${from}.ts`).sort()).toEqual(files.sort());
  for (const area of Object.keys(areas) as AreaName[]) {
    const steps = listed.filter((one) => one.area === area).map(({ from }) => from);
    const wanted = Array.from({ length: areas[area].version - 1 }, (_, step) => step + 1);
    expect([area, steps.sort((a, b) => a - b)]).toEqual([area, wanted]);
  }
});

describe('a show area whose dance had a day of its own', () => {
  /** As version 1 wrote it. */
  function olderShow(startsAt?: string): Y.Doc {
    const doc = newArea(areas.show);
    const registers = registersOf(doc);
    registers.set('version', 1);
    if (startsAt !== undefined) registers.set('startsAt', startsAt);
    registers.set('zone', 'Europe/Lisbon');
    const moment = new Y.Map<unknown>();
    entriesOf(doc, 'moments').set('m1', moment);
    for (const [name, value] of Object.entries({ at: 12, who: 'lights', what: 'dim' }))
      moment.set(name, value);
    return doc;
  }

  test.each([
    ['2031-05-03T20:45:30', '20:45:30', null],
    ['2031-05-04T00:30', '00:30', true],
    [undefined, null, null],
    ['soon', null, null],
  ])('that began at %s begins at %s', (startsAt, time, afterMidnight) => {
    const { doc, changes, unusable } = openArea(areas.show, [Y.encodeStateAsUpdate(olderShow(startsAt))]);
    expect([changes.length, unusable]).toEqual([1, []]);
    const show = readArea(doc, areas.show);
    expect(show).toMatchObject({ time, afterMidnight, zone: 'Europe/Lisbon' });
    expect(show.moments).toEqual([{ id: 'm1', at: 12, who: 'lights', what: 'dim' }]);
    expect(registersOf(doc).has('startsAt')).toBe(false);
    expect(migrate(doc, areas.show)).toBeNull();
  });

  test('that was final stays final while its day is the party’s, and is outdated once that moves', () => {
    const board = boardOf({}, { date: '2031-05-03', ending: endingOn(barAt(108), ['dip-three']) });
    const plan = { ...board.plan, moves: ['waltz-box', 'dip-three'].map(libraryMove) };
    // As that version printed its facts and made their digest.
    const set = { zone: 'Europe/Lisbon', announcedBy: 'Kim', lead: 60, applause: 20 };
    const { facts } = entryFacts({ ...board, plan, show: { ...board.show!, ...set, time: '20:45' } });
    expect(facts.starts).toBe('2031-05-03 20:45');
    const final = { digest: hashOf(facts), facts, at: AT, by: 'Kim' };
    const old = olderShow('2031-05-03T20:45');
    for (const [name, value] of Object.entries({ ...set, final })) registersOf(old).set(name, value);
    const show = { ...readArea(old, areas.show), moments: [] };
    expect(entryFacts({ ...board, plan, show }).final).toMatchObject({ outdated: false, differs: [] });
    const moved = { ...plan, date: '2031-05-10' as const };
    expect(entryFacts({ ...board, plan: moved, show }).final!.differs).toEqual([
      'starts: was 3 May 2031, 20:45, is 10 May 2031, 20:45',
    ]);
  });
});
