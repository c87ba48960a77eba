import { describe, expect, it } from 'vitest';
import { said, saidRound } from '../../../app/_sheet/said.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { gridOf, planOf } from '../../kit/board.ts';

const firstSaid = (plan: ReturnType<typeof planOf>, n: number) => {
  const score = boardScore(plan)!;
  return score.counts.slice(0, n).map((count) => said(score, count));
};

// What dancers say on counts: common practice, no source.
describe('numbers on the ruler', () => {
  it('counts a bar of three 1 2 3', () => {
    expect(firstSaid(planOf(), 7)).toEqual([1, 2, 3, 1, 2, 3, 1]);
  });
  it('counts bars of four 1 to 8', () => {
    expect(firstSaid(planOf({ beatsPerBar: 4 }), 9)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 1]);
  });
  it('counts thirds of a beat 1 2 3', () => {
    const plan = planOf({ beatsPerBar: 4, subdivision: 3, countLevel: 'subdivision' });
    expect(firstSaid(plan, 5)).toEqual([1, 2, 3, 1, 2]);
    expect(saidRound(boardScore(plan)!)).toBe(3);
  });
  it('lets a pick-up lead to the 1', () => {
    const plan = planOf({ beatsPerBar: 4 });
    const grid = gridOf({ beatsPerBar: 4 });
    // The bars open on the second beat: one beat comes before the first bar.
    const late = { ...grid, bars: grid.bars.map((i) => i + 1) };
    const sections = plan.sections.map((s) => ({ ...s, start: (s.start + 60 / 90) as typeof s.start }));
    expect(firstSaid({ ...plan, grid: late, sections }, 3)).toEqual([8, 1, 2]);
  });
  it('goes on counting after the last phrase', () => {
    const score = boardScore(planOf({ beatsPerBar: 4 }))!;
    const tail = score.counts.filter(({ phrase }) => phrase < 0);
    expect(tail.map((count) => said(score, count)).slice(0, 3)).toEqual([1, 2, 3]);
  });
});
