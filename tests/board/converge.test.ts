import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { AreaReader, applyChanges, readArea } from '../../lib/board/area.ts';
import { checkChanges } from '../../lib/board/checkChanges.ts';
import { AreaGuard } from '../../lib/board/guard.ts';
import { newArea } from '../../lib/board/layout.ts';
import { areas } from '../../lib/core/areas/board.ts';
import { changePlan, type PlanChange } from '../../lib/core/areas/change.ts';
import { emptyArea } from '../../lib/core/areas/empty.ts';
import { Undo } from '../../lib/core/areas/undo.ts';
import { recordTime } from '../../lib/core/units.ts';

const id = fc.constantFrom('a', 'b', 'c');
const time = fc.integer({ min: 0, max: 240 }).map(recordTime);
const gesture: fc.Arbitrary<PlanChange> = fc.oneof(
  fc.record({ register: fc.constant('title' as const), value: fc.constantFrom('One', 'Two', null) }),
  fc.record({ register: fc.constant('phraseBars' as const), value: fc.constantFrom(4, 8, null) }),
  fc.record({
    collection: fc.constant('cues' as const),
    id,
    fields: fc.option(fc.record({ at: time, word: fc.constantFrom('bell', 'low') }), { nil: null }),
  }),
  fc.record({ collection: fc.constant('cues' as const), id, fields: fc.record({ at: time }) }),
  fc.record({
    collection: fc.constant('placed' as const),
    id,
    fields: fc.record({ move: fc.constantFrom('box', 'turn'), at: time, times: fc.constantFrom(1, 2) }),
  }),
);
/** Which of three people acts; what they do, or else which way they go in what they did; and whether they then meet the server. */
const step = fc.record({
  who: fc.integer({ min: 0, max: 2 }),
  does: fc.option(gesture, { freq: 2 }),
  goes: fc.constantFrom('undo' as const, 'redo' as const),
  meets: fc.boolean(),
});

describe('three people, each offline for a while', () => {
  test('all end with the same valid plan, read in parts or whole, and the server accepts whatever the page let them do', () => {
    fc.assert(
      fc.property(fc.array(step, { maxLength: 25 }), (steps) => {
        const guard = new AreaGuard(areas.plan);
        const people = [0, 1, 2].map(() => newArea(areas.plan));
        const readers = people.map((doc) => new AreaReader(doc, areas.plan));
        const meet = (doc: Y.Doc) => {
          const news = Y.encodeStateAsUpdate(doc, Y.encodeStateVector(guard.doc));
          expect(guard.check(news, { membership: 'm' }).ok).toBe(true);
          Y.applyUpdate(doc, Y.encodeStateAsUpdate(guard.doc, Y.encodeStateVector(doc)));
        };
        const histories = people.map(() => new Undo<typeof areas.plan>());
        for (const { who, does, goes, meets } of steps) {
          const doc = people[who]!;
          const before = readArea(doc, areas.plan);
          const apply = (changes: PlanChange[]) => {
            if (!checkChanges(areas.plan, readArea(doc, areas.plan), changes).ok) return null;
            applyChanges(doc, areas.plan, changes);
            return readArea(doc, areas.plan);
          };
          if (does === null) histories[who]![goes](before, apply);
          else {
            const after = apply([does]);
            if (after) histories[who]!.made([does], before, after);
          }
          if (meets) meet(doc);
          if (who > 0) expect(readers[who]!.read()).toEqual(readArea(doc, areas.plan));
        }
        for (const doc of people) meet(doc);
        for (const doc of people) meet(doc);
        const plans = [guard.doc, ...people].map((doc) => readArea(doc, areas.plan));
        for (const plan of plans) expect(plan).toEqual(plans[0]);
        for (const reader of readers) expect(reader.read()).toEqual(plans[0]);
        expect(plans[0]!.cues.every((cue) => cue.word.length > 0)).toBe(true);
      }),
      { numRuns: 150 },
    );
  });

  test('a change means the same to the shared document and to plain data', () => {
    fc.assert(
      fc.property(fc.array(gesture, { maxLength: 15 }), (changes) => {
        const doc = newArea(areas.plan);
        let plan = emptyArea(areas.plan);
        for (const change of changes) {
          if (!checkChanges(areas.plan, plan, [change]).ok) continue;
          applyChanges(doc, areas.plan, [change]);
          plan = changePlan(plan, [change]);
        }
        expect(readArea(doc, areas.plan)).toEqual(plan);
      }),
    );
  });
});
