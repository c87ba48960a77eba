import { describe, expect, test } from 'vitest';
import { changePlan, type PlanChange } from '../../../lib/core/areas/change.ts';
import { emptyArea } from '../../../lib/core/areas/empty.ts';
import { type Plan, planShape } from '../../../lib/core/areas/plan.ts';
import { Undo } from '../../../lib/core/areas/undo.ts';
import { recordTime } from '../../../lib/core/units.ts';

const at = (seconds: number) => recordTime(seconds);
const place = (id: string, seconds: number): PlanChange => ({
  collection: 'placed',
  id,
  fields: { move: 'box', at: at(seconds), times: 1 },
});
const moved = (id: string, seconds: number): PlanChange => ({
  collection: 'placed',
  id,
  fields: { at: at(seconds) },
});
const away = (id: string): PlanChange => ({ collection: 'placed', id, fields: null });
const titled = (value: string): PlanChange => ({ register: 'title', value });

/** A plan, one person who can take back what they do, and others. */
function table() {
  let plan: Plan = emptyArea(planShape);
  const undo = new Undo<typeof planShape>();
  const apply = (changes: readonly PlanChange[]) => {
    plan = changePlan(plan, changes);
    return plan;
  };
  return {
    undo,
    i: (...changes: PlanChange[]) => {
      const before = plan;
      undo.made(changes, before, apply(changes));
    },
    others: (...changes: PlanChange[]) => void apply(changes),
    undone: () => undo.undo(plan, apply),
    redone: () => undo.redo(plan, apply),
    get title() {
      return plan.title;
    },
    get placed() {
      return plan.placed.map(({ id, at: seconds, times }) => [id, Number(seconds), times]);
    },
  };
}

describe('what one person takes back', () => {
  test('a gesture goes back whole, and forth again', () => {
    const the = table();
    the.i(titled('One'), place('a', 1), place('b', 2));
    the.i(titled('Two'), moved('a', 5), away('b'));
    the.undone();
    expect([the.title, the.placed]).toEqual([
      'One',
      [
        ['a', 1, 1],
        ['b', 2, 1],
      ],
    ]);
    the.undone();
    expect([the.title, the.placed]).toEqual([null, []]);
    expect(the.undo.canUndo).toBe(false);
    the.redone();
    the.redone();
    expect([the.title, the.placed]).toEqual(['Two', [['a', 5, 1]]]);
    expect(the.undo.canRedo).toBe(false);
  });

  test('what was undone is not done again after another step', () => {
    const the = table();
    the.i(titled('One'));
    the.undone();
    the.i(titled('Two'));
    the.redone();
    expect(the.title).toBe('Two');
  });

  test('what others have changed since stays theirs, and the step before it is taken back instead', () => {
    const the = table();
    the.i(place('a', 1));
    the.i(titled('Mine'));
    the.others(titled('Theirs'));
    the.undone();
    expect([the.title, the.placed]).toEqual(['Theirs', []]);
  });

  test('of an entry only the fields that one changed go back', () => {
    const the = table();
    the.others(place('a', 1));
    the.i(moved('a', 5));
    the.others({ collection: 'placed', id: 'a', fields: { times: 3 } });
    the.undone();
    expect(the.placed).toEqual([['a', 1, 3]]);
  });

  test('an entry that was taken away comes back whole, although somebody has changed it meanwhile', () => {
    const the = table();
    the.i(place('a', 1));
    the.i(away('a'));
    the.undone();
    the.others(moved('a', 7));
    the.undone();
    expect(the.placed).toEqual([]);
    the.redone();
    expect(the.placed).toEqual([['a', 7, 1]]);
  });

  test('an entry that others took away is left so', () => {
    const the = table();
    the.i(place('a', 1));
    the.i(moved('a', 2));
    the.others(away('a'));
    the.undone();
    expect([the.placed, the.undo.canUndo]).toEqual([[], false]);
  });

  test('a step that may not be taken back is passed over', () => {
    const the = table();
    the.i(titled('One'));
    the.undo.undo({ ...emptyArea(planShape), title: 'One' }, () => null);
    expect([the.undo.canUndo, the.undo.canRedo]).toEqual([false, false]);
  });
});
