import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { AreaReader, applyChanges, readArea } from '../../lib/board/area.ts';
import { AreaGuard } from '../../lib/board/guard.ts';
import { newArea } from '../../lib/board/layout.ts';
import { areas } from '../../lib/core/areas/board.ts';
import { changePlan, type PlanChange } from '../../lib/core/areas/change.ts';
import { checkChanges } from '../../lib/core/areas/checkChanges.ts';
import { emptyArea, emptyBoard } from '../../lib/core/areas/empty.ts';
import { good } from '../../lib/core/result.ts';
import { recordTime } from '../../lib/core/units.ts';
import { pageOver } from '../kit/page.ts';

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
const turn = fc.constantFrom<'undo' | 'redo'>('undo', 'redo');
/** Which of three people acts; what they do; and whether they then meet the server. */
const step = fc.record({
  who: fc.integer({ min: 0, max: 2 }),
  does: fc.oneof({ weight: 3, arbitrary: gesture }, { weight: 2, arbitrary: turn }),
  meets: fc.boolean(),
});

/** A page's own way of changing a plan; a question is answered with yes. */
const pageIn = (doc: Y.Doc) =>
  pageOver({
    role: 'instructor',
    read: () => ({ ...emptyBoard(), plan: readArea(doc, areas.plan) }),
    mayWrite: () => true,
    write(_area, changes) {
      applyChanges(doc, areas.plan, changes as unknown as PlanChange[]);
      return good(true);
    },
  });

describe('three people, each offline for a while', () => {
  test('all end with the same valid plan, read in parts or whole, and the server accepts whatever the page let them do', () => {
    fc.assert(
      fc.property(fc.array(step, { maxLength: 25 }), (steps) => {
        const guard = new AreaGuard(areas.plan);
        const people = [0, 1, 2].map(() => newArea(areas.plan));
        const readers = people.map((doc) => new AreaReader(doc, areas.plan));
        const own = people.map((doc) => pageIn(doc));
        const meet = (doc: Y.Doc) => {
          const news = Y.encodeStateAsUpdate(doc, Y.encodeStateVector(guard.doc));
          expect(guard.check(news, { membership: 'm' }).ok).toBe(true);
          Y.applyUpdate(doc, Y.encodeStateAsUpdate(guard.doc, Y.encodeStateVector(doc)));
        };
        for (const { who, does, meets } of steps) {
          const doc = people[who]!;
          if (does === 'undo' || does === 'redo') own[who]!.turn(does);
          else own[who]!.change('plan', [does]);
          own[who]!.gate.agree();
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
