import fc from 'fast-check';
import { expect, test } from 'vitest';
import { changePlan } from '../../../lib/core/areas/change.ts';
import { planShape } from '../../../lib/core/areas/plan.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { shiftedSong } from '../../../lib/core/areas/shift.ts';
import { solveEnding } from '../../../lib/core/dance/ending.ts';
import { laidOut } from '../../../lib/core/dance/place.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { barAt, cueAt, cutOut, endingOn, libraryMove, micros, placed, planOf } from '../../kit/board.ts';

const spec = { lead: 4 };
const plan = planOf(spec, {
  moves: ['waltz-box', 'waltz-underarm', 'lean-three'].map(libraryMove),
  cues: [cueAt('c', barAt(24, spec), 'lantern')],
  placed: [placed('p', 'waltz-underarm', barAt(32, spec))],
  ending: endingOn(barAt(108, spec), ['lean-three']),
  walkOn: { ...usualWalkOn, firstStep: micros(barAt(8, spec)) },
  edit: cutOut(barAt(48, spec), barAt(64, spec), { start: micros(1.5) }),
});

/** The dance as it is danced, in floor time. */
const danced = (of: typeof plan) => {
  const score = boardScore(of)!;
  const ending = solveEnding(of, score);
  return {
    counts: score.counts.map(({ floor }) => floor),
    phrases: score.phrases.map(({ floor }) => floor),
    placed: laidOut(of, score).map(({ at }) => at),
    landing: ending.ok ? ending.value.landing.floor : null,
  };
};

test('of another copy of the recording, the dance stays as it is on the floor', () => {
  fc.assert(
    fc.property(fc.integer({ min: -1_400_000, max: 9_000_000 }), (shift) => {
      const changes = shiftedSong(plan, shift / 1e6)!;
      const recording = { ...plan.recording!, duration: micros(plan.recording!.duration + shift / 1e6) };
      const heard = { ...plan.heard!, lastSound: micros(plan.heard!.lastSound + shift / 1e6) };
      const moved = { ...changePlan(plan, changes), recording, heard };
      const [before, after] = [danced(plan), danced(moved)];
      expect(after.placed).toEqual(before.placed);
      expect(after.counts).toHaveLength(before.counts.length);
      for (const part of ['counts', 'phrases'] as const)
        for (const [i, floor] of before[part].entries()) expect(after[part][i]).toBeCloseTo(floor, 5);
      expect(after.landing).toBeCloseTo(before.landing!, 5);
      for (const { start } of moved.sections)
        expect(planShape.collections.sections.shape.start.parse(start)).toBe(start);
    }),
    { numRuns: 60 },
  );
});

test('what the copy has lost cannot be moved', () => {
  expect(shiftedSong(plan, -barAt(0, spec) - 0.5)).toBeNull();
});
