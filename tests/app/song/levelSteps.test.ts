import { describe, expect, it } from 'vitest';
import { levelChanges } from '../../../app/_song/levelSteps.ts';
import { changePlan } from '../../../lib/core/areas/change.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { laidOut } from '../../../lib/core/dance/place.ts';
import { barAt, libraryMove, placed, planOf } from '../../kit/board.ts';

const four = { beatsPerBar: 4 as const, bpm: 120 };
const move = { ...libraryMove('foxtrot-box'), id: 'box' };
const plan = planOf(four, { moves: [move], placed: [placed('p', 'box', barAt(9, four))] });
const laid = (of: typeof plan) => laidOut(of, boardScore(of)!)[0]!;
const second = (of: typeof plan) => boardScore(of)!.counts[laid(of).at]!.floor;

describe('another count level', () => {
  it('keep seconds: a move is danced when and as long as before', () => {
    const next = changePlan(plan, levelChanges(plan, 'half', 'seconds'));
    expect(next.grid?.countLevel).toBe('half');
    expect(second(next)).toBeCloseTo(second(plan), 5);
    expect(laid(next).counts).toBe(laid(plan).counts / 2);
  });

  it('keep counts: a move has the same number of its phrase and the same length in counts', () => {
    const next = changePlan(plan, levelChanges(plan, 'half', 'counts'));
    const of = (p: typeof plan) => boardScore(p)!.counts[laid(p).at]!;
    expect(of(next).inPhrase).toBe(of(plan).inPhrase);
    expect(of(next).phrase).toBe(of(plan).phrase);
    expect(laid(next).counts).toBe(laid(plan).counts);
  });

  it('a level that the metre does not have changes no count', () => {
    const next = changePlan(plan, levelChanges(plan, 'subdivision', 'seconds'));
    expect(next.grid?.countLevel).toBe('beat');
  });
});
