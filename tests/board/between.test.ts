import fc from 'fast-check';
import { expect, test } from 'vitest';
import * as Y from 'yjs';
import { applyChanges, readArea } from '../../lib/board/area.ts';
import { changesBetween } from '../../lib/board/between.ts';
import { newArea } from '../../lib/board/layout.ts';
import { areaUpdate } from '../../lib/board/write.ts';
import type { AreaShape } from '../../lib/core/areas/area.ts';
import { areas } from '../../lib/core/areas/board.ts';
import { changeArea, changePlan } from '../../lib/core/areas/change.ts';
import { emptyArea } from '../../lib/core/areas/empty.ts';
import { field } from '../../lib/core/areas/field.ts';
import { planShape } from '../../lib/core/areas/plan.ts';
import { recordTime } from '../../lib/core/units.ts';
import { z } from '../../lib/core/zod.ts';
import { planOf } from '../kit/board.ts';

const id = fc.constantFrom('a', 'b', 'c', 'd');
const at = fc.integer({ min: 0, max: 3 }).map(recordTime);
const entries = <T>(fields: fc.Arbitrary<T>) =>
  fc
    .dictionary(id, fields)
    .map((all) => Object.entries(all).map(([id, one]) => ({ id, ...one })))
    .map((all) => all.sort((a, b) => (a.id < b.id ? -1 : 1)));
const plan = fc
  .record({
    title: fc.constantFrom('One', 'Two', null),
    phraseBars: fc.constantFrom(4, 8, null),
    edit: fc.constantFrom(planOf().edit, { ...planOf().edit!, start: recordTime(3) }, null),
    cues: entries(fc.record({ at, word: fc.constantFrom('bell', 'low') })),
    placed: entries(fc.record({ move: fc.constantFrom('box', 'turn'), at, times: fc.constantFrom(1, 2) })),
  })
  .map((parts) => ({ ...emptyArea(planShape), ...parts }));

test('the changes between two states, made to the one, give the other, as plain data and in a document', () => {
  fc.assert(
    fc.property(plan, plan, (before, after) => {
      const changes = changesBetween(planShape, before, after);
      expect(changePlan(before, changes)).toEqual(after);
      const doc = newArea(planShape);
      Y.applyUpdate(doc, areaUpdate(planShape, before));
      applyChanges(doc, planShape, changes);
      expect(readArea(doc, planShape)).toEqual(after);
      expect(changesBetween(planShape, after, structuredClone(after))).toEqual([]);
    }),
    { numRuns: 300 },
  );
});

test('name what differs and nothing else', () => {
  const before = planOf({}, { cues: [{ id: 'c', at: recordTime(3), word: 'bell' }] });
  const after = { ...before, venue: null, cues: [{ ...before.cues[0]!, word: 'lantern' }] };
  expect(changesBetween(planShape, before, after)).toEqual([
    { register: 'venue', value: null },
    { collection: 'cues', id: 'c', fields: { word: 'lantern' } },
  ]);
});

test('an entry that has lost a field is made anew, since a change takes none away', () => {
  const shape = {
    ...areas.lessons,
    richText: [],
    collections: {
      pages: field(z.object({ title: z.string(), more: z.optional(z.string()) }), {
        of: 'lessons',
        called: 'a page',
      }),
    },
  } as const satisfies AreaShape;
  const before = { pages: [{ id: 'p', title: 'One', more: 'words' }] };
  const after = { pages: [{ id: 'p', title: 'One' }] };
  const changes = changesBetween<typeof shape>(shape, before, after);
  expect(changes).toHaveLength(2);
  expect(changeArea<typeof shape>(before, changes)).toEqual(after);
});
