import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { changePlan, type PlanChange } from '../../../lib/core/areas/change.ts';
import { emptyArea } from '../../../lib/core/areas/empty.ts';
import { type Plan, planShape } from '../../../lib/core/areas/plan.ts';
import { OwnSteps } from '../../../lib/core/areas/steps.ts';
import { bad, good } from '../../../lib/core/result.ts';
import { recordTime } from '../../../lib/core/units.ts';

/** A plan that two people change: `mine` by steps, `others` past them. */
function opened() {
  let plan: Plan = emptyArea(planShape);
  let refuses = false;
  let against = '';
  const write = (changes: readonly PlanChange[]) => {
    plan = changePlan(plan, changes);
  };
  const steps = new OwnSteps({
    read: () => plan,
    make: (changes) => {
      if (refuses) return bad('invalid', 'This does not go.');
      write(changes);
      return good(true);
    },
    against: () => against,
  });
  return {
    steps,
    mine: (...changes: PlanChange[]) => steps.make(changes),
    others: (...changes: PlanChange[]) => write(changes),
    refuse: () => {
      refuses = true;
    },
    stand: (words: string) => {
      against = words;
    },
    plan: () => plan,
  };
}

const cue = (id: string, at: number, word: string): PlanChange => ({
  collection: 'cues',
  id,
  fields: { at: recordTime(at), word },
});
const title = (value: string | null): PlanChange => ({ register: 'title', value });

describe('undo of one’s own', () => {
  test('takes back one gesture at a time, and does it again', () => {
    const { steps, mine, plan } = opened();
    const states = [plan()];
    for (const gesture of [[title('One'), cue('a', 1, 'bell')], [cue('a', 2, 'low')], [title(null)]]) {
      mine(...gesture);
      states.push(plan());
    }
    for (let i = 2; i >= 0; i--) {
      expect(steps.undo()).toBe('');
      expect(plan()).toEqual(states[i]);
    }
    expect([steps.canUndo, steps.canRedo]).toEqual([false, true]);
    for (let i = 1; i <= 3; i++) {
      expect(steps.redo()).toBe('');
      expect(plan()).toEqual(states[i]);
    }
    steps.undo();
    mine(title('Two'));
    expect(steps.canRedo).toBe(false);
  });

  test('leaves what somebody else has changed since, says so, and goes no further back', () => {
    const { steps, mine, others, plan } = opened();
    mine(title('Mine'));
    mine(cue('a', 1, 'bell'));
    others(cue('a', 5, 'bell'));
    const theirs = plan();
    expect(steps.undo()).toBe('Not undone: this was changed elsewhere since, and stays as it is now.');
    expect(plan()).toEqual(theirs);
    expect(steps.undo()).toBe('');
    expect(plan()).toEqual({ ...theirs, title: null });
  });

  test('takes back of a gesture what is left of it', () => {
    const { steps, mine, others, plan } = opened();
    others(cue('a', 1, 'bell'));
    mine(cue('a', 2, 'low'), title('Mine'));
    others({ collection: 'cues', id: 'a', fields: { at: recordTime(3) } });
    expect(steps.undo()).toBe(
      'Undone in part: the rest was changed elsewhere since, and stays as it is now.',
    );
    expect(plan().cues).toEqual([{ id: 'a', at: 3, word: 'bell' }]);
    expect(plan().title).toBeNull();
  });

  test('what was taken away by somebody else is not brought back by undoing a change to it', () => {
    const { steps, mine, others, plan } = opened();
    others(cue('a', 1, 'bell'));
    mine(cue('a', 2, 'bell'));
    others({ collection: 'cues', id: 'a', fields: null });
    expect(steps.undo()).toMatch(/^Not undone/);
    expect(plan().cues).toEqual([]);
  });

  test('what changes nothing is no step, and what is refused says why', () => {
    const { steps, mine, refuse, plan } = opened();
    mine(title('One'));
    mine(title('One'));
    mine(cue('a', 1, 'bell'), { collection: 'cues', id: 'a', fields: null });
    refuse();
    expect(steps.undo()).toBe('This does not go.');
    expect(plan().title).toBe('One');
    expect([steps.canUndo, steps.canRedo]).toEqual([false, false]);
  });

  test('what was said to others is no step, and what stands against it is told', () => {
    const { steps, mine, stand, plan } = opened();
    mine({ register: 'settled', value: { by: 'Mara', at: '2027-05-01T10:00:00.000Z', word: '' } });
    expect(steps.canUndo).toBe(false);
    mine(title('One'));
    stand('song and edit are settled');
    expect(steps.undo()).toBe('Not undone: song and edit are settled.');
    expect(plan().title).toBe('One');
  });

  test('with nobody else about, undo to the beginning and redo to the end are exact', () => {
    const gesture: fc.Arbitrary<PlanChange> = fc.oneof(
      fc.constantFrom(title('One'), title('Two'), title(null)),
      fc
        .tuple(fc.constantFrom('a', 'b'), fc.nat(9), fc.constantFrom('bell', 'low'))
        .map(([id, at, word]) => cue(id, at, word)),
      fc.constantFrom('a', 'b').map((id): PlanChange => ({ collection: 'cues', id, fields: null })),
    );
    fc.assert(
      fc.property(fc.array(fc.array(gesture, { maxLength: 3 }), { maxLength: 8 }), (gestures) => {
        const { steps, mine, plan } = opened();
        const empty = plan();
        for (const changes of gestures) mine(...changes);
        const full = plan();
        while (steps.canUndo) expect(steps.undo()).toBe('');
        expect(plan()).toEqual(empty);
        while (steps.canRedo) expect(steps.redo()).toBe('');
        expect(plan()).toEqual(full);
      }),
    );
  });
});
