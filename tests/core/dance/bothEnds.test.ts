import { describe, expect, it } from 'vitest';
import { changePlan, type PlanChange } from '../../../lib/core/areas/change.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { bothEnds } from '../../../lib/core/dance/bothEnds.ts';
import { poses } from '../../../lib/core/dance/library/poses.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { lackingOf } from '../../../lib/core/dance/whole.ts';
import { barAt, endingOn, libraryMove, micros, placed, planOf } from '../../kit/board.ts';

const moves = ['waltz-box', 'waltz-underarm'].map(libraryMove);
const target = endingOn(barAt(111), []).target;
const bare = planOf(
  {},
  { moves, placed: [placed('p', 'waltz-underarm', barAt(24))], walkOn: null, ending: null },
);
const score = boardScore(bare)!;

describe('the ends of a dance that lacks them', () => {
  it('are a first step and a pose that lands: then nothing is lacking', () => {
    expect(lackingOf(bare, score)).toEqual(['a first step', 'a closing pose']);
    const { changes, plan, words } = bothEnds(bare, score, target);
    expect(lackingOf(plan, score)).toEqual([]);
    // The changes make of the plan what the proposal was made for.
    const changed = changePlan(bare, changes as PlanChange[]);
    expect(changed.walkOn).toEqual(plan.walkOn);
    expect(changed.ending).toEqual(plan.ending);
    expect(changed.moves.map(({ id }) => id).sort()).toEqual(plan.moves.map(({ id }) => id).sort());
    expect(words).toHaveLength(2);
  });
  it('close with a pose that needs no caution where the couple have none of their own', () => {
    const pose = poses.find(({ id }) => id === bothEnds(bare, score, target).plan.ending!.moves[0])!;
    expect(pose.cautions).toEqual([]);
    expect(pose.metre).toBe(3);
  });
  it('close with the couple’s own pose, of two the one without a caution', () => {
    const own = { ...bare, moves: [...moves, libraryMove('dip-three')] };
    const closed = bothEnds(own, score, target);
    expect(closed.plan.ending!.moves).toEqual(['dip-three']);
    expect(closed.changes.some((change) => 'collection' in change)).toBe(false);
    const two = { ...own, moves: [...own.moves, libraryMove('open-pose-three')] };
    expect(bothEnds(two, score, target).plan.ending!.moves).toEqual(['open-pose-three']);
  });
  it('leave alone what a person has set', () => {
    const walkOn = { ...usualWalkOn, firstStep: micros(barAt(12)) };
    const ending = endingOn(barAt(100), ['dip-three']);
    const set = { ...bare, moves: [...moves, libraryMove('dip-three')], walkOn, ending };
    expect(bothEnds(set, score, target)).toEqual({ changes: [], plan: set, words: [] });
  });
  it('keep what a person said of the walk and of the ending so far', () => {
    const walkOn = { ...usualWalkOn, metres: 3, from: 'the garden door' };
    const ending = { ...endingOn(barAt(100), []), hold: 5 };
    const { plan } = bothEnds({ ...bare, walkOn, ending }, score, target);
    expect(plan.walkOn).toMatchObject({ metres: 3, from: 'the garden door' });
    expect(plan.ending).toMatchObject({ hold: 5, target: ending.target });
  });
  it('have no ending where no count to land on is known, or none that the pose fits before', () => {
    expect(bothEnds(bare, score, null).plan.ending).toBeNull();
    const early = { ...target, at: micros(0) };
    expect(bothEnds(bare, score, early).plan.ending).toBeNull();
  });
});
