import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { applyChanges, readArea } from '../../lib/board/area.ts';
import { AreaGuard, type Tried } from '../../lib/board/guard.ts';
import { entriesOf, newArea, registersOf } from '../../lib/board/layout.ts';
import { areas } from '../../lib/core/areas/board.ts';
import { changePlan, type PlanChange } from '../../lib/core/areas/change.ts';
import { recordTime } from '../../lib/core/units.ts';

const writer = { membership: 'm' };
const id = fc.constantFrom('a', 'b');
const at = fc.integer({ min: 0, max: 240 }).map(recordTime);
const gesture: fc.Arbitrary<PlanChange> = fc.oneof(
  fc.record({ register: fc.constant('title' as const), value: fc.constantFrom('One', 'Two', null) }),
  fc.record({ register: fc.constant('phraseBars' as const), value: fc.constantFrom(4, 8, null) }),
  fc.record({
    collection: fc.constant('cues' as const),
    id,
    fields: fc.option(fc.record({ at, word: fc.constantFrom('bell', 'low') }), { nil: null }),
  }),
  fc.record({
    collection: fc.constant('placed' as const),
    id,
    fields: fc.option(fc.record({ move: fc.constantFrom('box', 'turn'), at, times: fc.constantFrom(1, 2) }), {
      nil: null,
    }),
  }),
);
const step = fc.record({
  who: fc.integer({ min: 0, max: 2 }),
  does: fc.array(gesture, { minLength: 1, maxLength: 4 }),
  meets: fc.boolean(),
  refused: fc.boolean(),
});

describe('what an update has changed', () => {
  test('is told as it was and as it is, whoever was offline and whatever was refused before', () => {
    fc.assert(
      fc.property(fc.array(step, { maxLength: 25 }), (steps) => {
        const guard = new AreaGuard(areas.plan);
        const pages = [0, 1, 2].map(() => newArea(areas.plan));
        for (const { who, does, meets, refused } of steps) {
          const doc = pages[who]!;
          applyChanges(doc, areas.plan, does);
          if (!meets) continue;
          const before = readArea(guard.doc, areas.plan);
          const expected = newArea(areas.plan);
          Y.applyUpdate(expected, Y.encodeStateAsUpdate(guard.doc));
          const news = Y.encodeStateAsUpdate(doc, Y.encodeStateVector(guard.doc));
          Y.applyUpdate(expected, news);
          const seen: ReturnType<Tried['read']>[] = [];
          const checked = guard.check(news, writer, undefined, ({ read }) => {
            seen.push(read());
            return refused ? { code: 'no', sentence: 'No.' } : null;
          });
          expect(checked.ok).toBe(!refused);
          expect(seen).toEqual([{ before, after: readArea(expected, areas.plan) }]);
          if (refused) {
            expect(guard.read()).toEqual(before);
            // Whoever is refused begins anew.
            pages[who] = newArea(areas.plan);
          }
          Y.applyUpdate(pages[who]!, Y.encodeStateAsUpdate(guard.doc));
          expect(guard.read()).toEqual(readArea(guard.doc, areas.plan));
        }
      }),
      { numRuns: 200 },
    );
  });

  test('names only what it touches, and what it leaves is the same object', () => {
    const guard = new AreaGuard(areas.plan);
    const page = newArea(areas.plan);
    const send = (changes: PlanChange[], permit: (tried: Tried) => void) => {
      const before = Y.encodeStateVector(page);
      applyChanges(page, areas.plan, changes);
      guard.check(Y.encodeStateAsUpdate(page, before), writer, undefined, (tried) => {
        permit(tried);
        return null;
      });
    };
    const cue = { collection: 'cues', id: 'c', fields: { at: recordTime(3), word: 'bell' } } as const;
    send([{ register: 'title', value: 'One' }, cue], ({ touched, isSet }) => {
      expect([...touched].sort()).toEqual(['cues', 'title', 'version']);
      expect([isSet('title'), isSet('venue')]).toEqual([true, false]);
    });
    send([{ register: 'title', value: 'Two' }], ({ touched, read }) => {
      const { before, after } = read();
      expect(touched).toEqual(['title']);
      expect([before.title, after.title]).toEqual(['One', 'Two']);
      expect(after.cues).toBe(before.cues);
    });
    const after = guard.read();
    expect(changePlan(after as never, [])).toEqual(readArea(guard.doc, areas.plan));
  });

  test('an entry that comes again under its id is told as the one that it was', () => {
    const guard = new AreaGuard(areas.plan);
    const page = newArea(areas.plan);
    const cue = (word: string) =>
      ({ collection: 'cues', id: 'c', fields: { at: recordTime(3), word } }) as const;
    const gone = { collection: 'cues', id: 'c', fields: null } as const;
    const told: unknown[] = [];
    for (const changes of [[cue('bell')], [gone, cue('low')], [gone], [cue('new')]]) {
      const before = Y.encodeStateVector(page);
      page.transact(() => applyChanges(page, areas.plan, changes));
      const update = Y.encodeStateAsUpdate(page, before);
      guard.check(update, writer, undefined, ({ read }) => {
        const states = read();
        told.push(
          [states.before.cues, states.after.cues].map(
            (all) => (all as unknown as { word: string }[])[0]?.word,
          ),
        );
        return null;
      });
    }
    expect(told).toEqual([
      [undefined, 'bell'],
      ['bell', 'low'],
      ['low', undefined],
      [undefined, 'new'],
    ]);
  });

  test('a decision that fails leaves the document as it was', () => {
    const guard = new AreaGuard(areas.plan);
    const page = newArea(areas.plan);
    applyChanges(page, areas.plan, [{ register: 'title', value: 'One' }]);
    const fails = () => {
      throw new Error('broken');
    };
    expect(() => guard.check(Y.encodeStateAsUpdate(page), writer, undefined, fails)).toThrow('broken');
    expect([registersOf(guard.doc).size, entriesOf(guard.doc, 'cues').size]).toEqual([0, 0]);
    expect(guard.check(Y.encodeStateAsUpdate(page), writer)).toMatchObject({ value: { changed: true } });
  });
});
