import { describe, expect, it } from 'vitest';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import { solveEnding } from '../../../lib/core/dance/ending.ts';
import { fadeDb } from '../../../lib/core/dance/fade.ts';
import { barAt, boardOf, cueAt, cutOut, endingOn, fadeAt, libraryMove, planOf } from '../../kit/board.ts';

const moves = ['waltz-box', 'waltz-roll-out-and-in', 'dip-three'].map(libraryMove);
const solved = (plan: ReturnType<typeof planOf>) => {
  const result = solveEnding(plan, boardScore(plan)!);
  if (!result.ok) throw new Error(result.problem.code);
  return result.value;
};

describe('solveEnding', () => {
  it('lands the last move on the target and leads the first one before, backwards', () => {
    const target = barAt(108);
    const plan = planOf({}, { moves, ending: endingOn(target, ['waltz-roll-out-and-in', 'dip-three']) });
    const { moves: laid, landing, led, kept } = solved(plan);
    // Bar 108 opens on count 324; the dip takes 3 counts before it, rolling out 6 before that, led 3 before.
    expect(landing.count).toBe(324);
    expect(landing.secondsOff).toBeCloseTo(0, 6);
    expect(laid.map(({ at }) => at)).toEqual([315, 321]);
    expect(laid.at(-1)!.lands).toBe(324);
    expect(led.count).toBe(312);
    expect(kept.until).toBeCloseTo(target + 4, 6);
  });

  it('tells a dip that is danced as a lean as a lean, without the cautions of a dip', () => {
    const plan = planOf({}, { moves, ending: endingOn(barAt(108), ['dip-three'], { safer: true }) });
    const { moves: laid, words } = solved(plan);
    expect(laid.at(-1)!.move).toMatchObject({ id: 'dip-three', cautions: [], difficulty: 1, saferForm: '' });
    expect(words).toContain('supported lean');
    expect(words).not.toContain('dip');
    const found = checkBoard(boardOf({}, { ...plan }), '2027-01-01');
    expect(found.filter(({ rule }) => rule === 'caution' || rule === 'safer-form')).toEqual([]);
  });

  it('takes as signal the last word in reach before it is led', () => {
    const plan = planOf(
      {},
      {
        moves,
        ending: endingOn(barAt(108), ['dip-three']),
        cues: [
          cueAt('a', barAt(100), 'slowly'),
          cueAt('b', barAt(105), 'homeward'),
          cueAt('c', barAt(107), 'late'),
        ],
      },
    );
    // Led on count 318, bar 106.
    expect(solved(plan).signal).toMatchObject({ cue: { word: 'homeward' }, proposed: true, before: 2 });
  });

  it('finds no signal when none lies in reach, and keeps a person’s choice even when it is late', () => {
    const ending = endingOn(barAt(108), ['dip-three']);
    const far = planOf({}, { moves, ending, cues: [cueAt('a', 3, 'lanterns')] });
    expect(solved(far).signal).toBeNull();
    const late = planOf(
      {},
      { moves, ending: { ...ending, signal: 'c' }, cues: [cueAt('c', barAt(107), 'late')] },
    );
    expect(solved(late).signal).toMatchObject({ proposed: false, before: -2 });
  });

  it('lands past the last beat, where counts go on', () => {
    const spec = { tail: 8 };
    const plan = planOf(spec, { moves, ending: endingOn(barAt(113), ['dip-three']) });
    const { landing } = solved(plan);
    expect(boardScore(plan)!.counts[landing.count]!.assumed).toBe(true);
    expect(landing.floor).toBeCloseTo(barAt(113), 3);
  });

  it('says when the edit leaves the target out', () => {
    const plan = planOf(
      {},
      { moves, ending: endingOn(barAt(50), ['dip-three']), edit: cutOut(barAt(48), barAt(96)) },
    );
    const result = solveEnding(plan, boardScore(plan)!);
    expect(result.ok ? null : result.problem.code).toBe('target-left-out');
  });
});

describe('fadeDb', () => {
  // Worked example (arithmetic): a linear fade of 8 s to silence at 3:00 is at -6.02 dB at 2:56.
  it('is -6.02 dB in the middle of a linear fade and -12.04 dB of a soft one', () => {
    const edit = fadeAt(172, 8);
    const plan = planOf({}, { edit });
    const score = boardScore(plan)!;
    expect(score.length).toBeCloseTo(180, 6);
    expect(fadeDb(edit, score, 176)).toBeCloseTo(-6.02, 2);
    const soft = { ...edit, end: { ...edit.end, shape: 'soft' as const } } as typeof edit;
    expect(fadeDb(soft, score, 176)).toBeCloseTo(-12.04, 2);
    const byHand = { ...edit, end: { ...edit.end, byHand: true } } as typeof edit;
    expect(fadeDb(byHand, score, 176)).toBeCloseTo(-12.04, 2);
  });
});
