import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countBeside, landOn, meaningOf, putOnCount, timesBy } from '../../../app/_dance/hand.ts';
import { changePlan } from '../../../lib/core/areas/change.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { laidOut } from '../../../lib/core/dance/place.ts';
import { barAt, cueAt, libraryMove, placed, planOf } from '../../kit/board.ts';

const plan = planOf(
  {},
  {
    moves: [libraryMove('waltz-underarm')],
    placed: [placed('p', 'waltz-underarm', barAt(8))],
    cues: [cueAt('c', barAt(104) + 0.1, 'homeward')],
  },
);
const score = boardScore(plan)!;
const id = () => 'new';

describe('choosing a count', () => {
  it('places the move that is in hand, and takes the placed one in hand', () => {
    const done = putOnCount(plan, score, { kind: 'move', move: 'waltz-underarm' }, 96, id);
    expect(done.hand).toEqual({ kind: 'placed', id: 'new' });
    expect(laidOut(changePlan(plan, done.changes), score).map(({ at }) => at)).toEqual([24, 96]);
  });
  it('places nothing of a move that somebody else has taken off the list meanwhile', () => {
    const hand = { kind: 'move', move: 'waltz-box' } as const;
    expect(putOnCount(plan, score, hand, 96, id)).toEqual({ changes: [], hand });
  });
  it('sets the first step', () => {
    const done = putOnCount(plan, score, { kind: 'first step' }, 48, id);
    expect(changePlan(plan, done.changes).walkOn?.firstStep).toBe(barAt(16));
    expect(done.hand.kind).toBe('nothing');
  });
  it('lands the closing pose on the word that lies there, else on the moment', () => {
    expect(changePlan(plan, landOn(plan, score, 312)).ending?.target).toEqual({
      kind: 'cue word',
      at: plan.cues[0]!.at,
      cue: 'c',
    });
    expect(changePlan(plan, landOn(plan, score, 320)).ending?.target).toMatchObject({
      kind: 'time',
      cue: null,
    });
  });
  it('only chooses the count when nothing is in hand, and does nothing off the song', () => {
    expect(putOnCount(plan, score, { kind: 'nothing' }, 5, id)).toEqual({
      changes: [],
      hand: { kind: 'count', at: 5 },
    });
    const off = putOnCount(plan, score, { kind: 'move', move: 'waltz-underarm' }, 9999, id);
    expect(off.changes).toEqual([]);
  });
});

describe('keys', () => {
  it('step by count, with shift by bar, up and down by phrase', () => {
    expect(meaningOf('ArrowRight', false)).toEqual({ kind: 'step', unit: 'count', steps: 1 });
    expect(meaningOf('ArrowLeft', true)).toEqual({ kind: 'step', unit: 'bar', steps: -1 });
    expect(meaningOf('ArrowDown', false)).toEqual({ kind: 'step', unit: 'phrase', steps: 1 });
    expect(meaningOf('q', false)).toBeNull();
  });
  it('dance a move more or less often, from once to sixteen times', () => {
    expect(timesBy(plan, 'p', 1)).toEqual([{ collection: 'placed', id: 'p', fields: { times: 2 } }]);
    expect(timesBy(plan, 'p', -1)).toEqual([]);
    expect(timesBy(plan, 'p', 16)).toEqual([]);
    expect(timesBy(plan, 'none', 1)).toEqual([]);
  });
  it('never leave the song, and come back', () => {
    const counts = fc.integer({ min: 0, max: score.counts.length - 1 });
    const unit = fc.constantFrom('count' as const, 'bar' as const, 'phrase' as const);
    fc.assert(
      fc.property(counts, unit, fc.constantFrom(1, -1), (at, by, steps) => {
        const next = countBeside(score, at, by, steps);
        expect(score.counts[next]).toBeDefined();
        const phrase = score.counts[at]!.phrase;
        const whole = by !== 'phrase' || (phrase >= 0 && score.phrases[phrase + steps]);
        if (whole && Math.abs(next - at) > 0 && next > 2 && next < score.counts.length - 3) {
          expect(countBeside(score, next, by, -steps)).toBe(at);
        }
      }),
    );
  });
});
