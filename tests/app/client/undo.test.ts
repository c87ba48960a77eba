import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { changePlan, type PlanChange } from '../../../lib/core/areas/change.ts';
import { emptyBoard } from '../../../lib/core/areas/empty.ts';
import { recordTime } from '../../../lib/core/units.ts';
import { openedBoard } from '../../kit/page.ts';

/** A plan that two people change: `mine` by a page, `others` past it. */
function opened() {
  const board = openedBoard(emptyBoard());
  const page = board.page('instructor');
  const others = (...changes: PlanChange[]) =>
    board.put({ ...board.read(), plan: changePlan(board.read().plan, changes) });
  const turn = (way: 'undo' | 'redo') => {
    page.turn(way);
    return page.left;
  };
  return {
    page,
    steps: page.steps,
    undo: () => turn('undo'),
    redo: () => turn('redo'),
    mine: (...changes: PlanChange[]) => page.change('plan', changes),
    others,
    plan: () => board.read().plan,
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
    const { steps, undo, redo, mine, plan } = opened();
    const states = [plan()];
    for (const gesture of [[title('One'), cue('a', 1, 'bell')], [cue('a', 2, 'low')], [title(null)]]) {
      mine(...gesture);
      states.push(plan());
    }
    for (let i = 2; i >= 0; i--) {
      expect(undo()).toBe('');
      expect(plan()).toEqual(states[i]);
    }
    expect([steps.canUndo, steps.canRedo]).toEqual([false, true]);
    for (let i = 1; i <= 3; i++) {
      expect(redo()).toBe('');
      expect(plan()).toEqual(states[i]);
    }
    undo();
    mine(title('Two'));
    expect(steps.canRedo).toBe(false);
  });

  test('takes back a floor that was drawn, also for a planner, who may not write the plan', () => {
    for (const role of ['instructor', 'planner'] as const) {
      const board = openedBoard(emptyBoard());
      const page = board.page(role);
      const floor = () => board.read().show!.floor;
      for (const width of [6, 7]) {
        const value = { width, depth: 5, surface: '', obstacles: '', guests: '' };
        expect(page.change('plan', [], { along: [{ register: 'floor', value }] }).ok).toBe(true);
      }
      page.turn('undo');
      expect([page.left, floor()?.width]).toEqual(['', 6]);
      page.turn('undo');
      expect(floor()).toBeNull();
      page.turn('redo');
      expect(floor()?.width).toBe(6);
    }
    const couple = openedBoard(emptyBoard()).page('couple');
    const value = { width: 6, depth: 5, surface: '', obstacles: '', guests: '' };
    expect(couple.change('plan', [], { along: [{ register: 'floor', value }] }).ok).toBe(false);
  });

  test('leaves what somebody else has changed since, says so, and goes no further back', () => {
    const { undo, mine, others, plan } = opened();
    mine(title('Mine'));
    mine(cue('a', 1, 'bell'));
    others(cue('a', 5, 'bell'));
    const theirs = plan();
    expect(undo()).toBe('Not undone: this was changed elsewhere since, and stays as it is now.');
    expect(plan()).toEqual(theirs);
    expect(undo()).toBe('');
    expect(plan()).toEqual({ ...theirs, title: null });
  });

  test('takes back of a gesture what is left of it', () => {
    const { undo, mine, others, plan } = opened();
    others(cue('a', 1, 'bell'));
    mine(cue('a', 2, 'low'), title('Mine'));
    others({ collection: 'cues', id: 'a', fields: { at: recordTime(3) } });
    expect(undo()).toBe('Undone in part: the rest was changed elsewhere since, and stays as it is now.');
    expect(plan().cues).toEqual([{ id: 'a', at: 3, word: 'bell' }]);
    expect(plan().title).toBeNull();
  });

  test('what was taken away by somebody else is not brought back by undoing a change to it', () => {
    const { undo, mine, others, plan } = opened();
    others(cue('a', 1, 'bell'));
    mine(cue('a', 2, 'bell'));
    others({ collection: 'cues', id: 'a', fields: null });
    expect(undo()).toMatch(/^Not undone/);
    expect(plan().cues).toEqual([]);
  });

  test('what changes nothing is no step', () => {
    const { steps, mine, undo, plan } = opened();
    mine(title('One'));
    mine(title('One'));
    mine(cue('a', 1, 'bell'), { collection: 'cues', id: 'a', fields: null });
    expect(undo()).toBe('');
    expect(plan().title).toBeNull();
    expect(steps.canUndo).toBe(false);
  });

  test('what cannot be made as it was is said, and stands in the way of nothing older', () => {
    const { mine, others, undo, plan } = opened();
    others(cue('a', 1, 'bell'));
    mine(title('Mine'));
    mine({ collection: 'cues', id: 'a', fields: { word: 'low' } });
    // Nobody's page writes such an entry; another version's might.
    others({ collection: 'cues', id: 'a', fields: { at: -1 as never } });
    expect(undo()).toMatch(/^cues, at: /);
    expect(undo()).toBe('');
    expect(plan().title).toBeNull();
  });

  test('what was said to others is no step, and what was settled since is asked about', () => {
    const { page, steps, mine, undo, plan } = opened();
    mine({ register: 'phraseBars', value: 8 });
    mine({ register: 'settled', value: { by: 'Mara', at: '2027-05-01T10:00:00.000Z', word: '' } });
    undo();
    expect(page.gate.question?.title).toBe('Mara has settled song and edit');
    page.gate.decline();
    expect([plan().phraseBars, plan().settled?.by, steps.canUndo]).toEqual([8, 'Mara', true]);
    undo();
    page.gate.agree();
    expect([plan().phraseBars, plan().settled, steps.canUndo]).toEqual([null, null, false]);
    page.turn('redo');
    expect([plan().phraseBars, plan().settled]).toEqual([8, null]);
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
        const { steps, undo, redo, mine, plan } = opened();
        const empty = plan();
        for (const changes of gestures) mine(...changes);
        const full = plan();
        while (steps.canUndo) expect(undo()).toBe('');
        expect(plan()).toEqual(empty);
        while (steps.canRedo) expect(redo()).toBe('');
        expect(plan()).toEqual(full);
      }),
    );
  });
});
