import { describe, expect, it } from 'vitest';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { planWalkOn, usualWalkOn, walkSeconds } from '../../../lib/core/dance/walkOn.ts';
import type { SectionKind } from '../../../lib/core/song/section.ts';
import { micros, nineParts, planOf } from '../../kit/board.ts';

const planned = (plan: ReturnType<typeof planOf>) => {
  const result = planWalkOn(plan, boardScore(plan)!);
  if (!result.ok) throw new Error(result.problem.code);
  return result.value;
};

describe('walking on', () => {
  // Bohannon 1997: comfortable gait 127 to 146 cm/s; drill slow time: 60 paces of 75 cm a minute. Arithmetic for 8 m.
  it.each([
    [1.46, 5.48],
    [1.27, 6.3],
    [0.75, 10.67],
  ])('8 m at %f m/s take %f s', (pace, seconds) => {
    expect(walkSeconds({ ...usualWalkOn, metres: 8, pace, takeHold: 0 })).toBeCloseTo(seconds, 2);
  });

  it('proposes the beginning of the first verse when the intro is long enough', () => {
    const { proposed, comeOnAt, firstStepAt, seconds, words } = planned(planOf());
    expect(words).toBe('As verse 1 begins.');
    expect(proposed).toBe(24);
    expect(firstStepAt - comeOnAt).toBeCloseTo(seconds, 6);
  });

  it('proposes the middle of the first verse when the intro is too short', () => {
    const form = nineParts.map(([kind, bars]): [typeof kind, number] => [kind, kind === 'intro' ? 2 : bars]);
    const walkOn = { ...usualWalkOn, metres: 10, pace: 1, takeHold: 4 };
    // 14 s are needed, the intro has 4; verse of 16 bars in phrases of 8: its second phrase opens on bar 10.
    const { proposed, words } = planned(planOf({ form }, { walkOn }));
    expect(proposed).toBe(30);
    expect(words).toBe('The walk does not fit before verse 1, so in the middle of it.');
  });

  it('proposes the first section after the intro where all is played', () => {
    const form: [SectionKind, number][] = [
      ['intro', 8],
      ['instrumental', 16],
      ['instrumental', 16],
      ['outro', 8],
    ];
    const { proposed, words } = planned(planOf({ form }));
    expect(proposed).toBe(24);
    expect(words).toBe('As instrumental 1 begins.');
  });

  it('says how much is missing before a first step that a person set', () => {
    const walkOn = { ...usualWalkOn, metres: 12.7, firstStep: micros(8) };
    const { missing, standStill } = planned(planOf({}, { walkOn }));
    expect(missing).toBeCloseTo(6, 6);
    expect(standStill).toBe(0);
  });
});
