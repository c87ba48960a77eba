import { describe, expect, it } from 'vitest';
import { changePlan } from '../../../lib/core/areas/change.ts';
import { boardScore, usualPhraseBars } from '../../../lib/core/areas/score.ts';
import { basicStretches } from '../../../lib/core/dance/basics.ts';
import { mayStartOn, onBoard } from '../../../lib/core/dance/counts.ts';
import { standardMoves } from '../../../lib/core/dance/library/standard.ts';
import { move } from '../../../lib/core/dance/move.ts';
import { laidOut, moveBy, placeAt } from '../../../lib/core/dance/place.ts';
import { barAt, cutOut, endingOn, gridOf, libraryMove, placed, planOf } from '../../kit/board.ts';

describe('the move library', () => {
  it('holds valid moves with ids of their own, a basic for each of its dances, and poses with a safer form', () => {
    for (const { id, ...rest } of standardMoves) expect(move.safeParse(rest).error, id).toBeUndefined();
    expect(new Set(standardMoves.map(({ id }) => id)).size).toBe(standardMoves.length);
    expect(standardMoves.length).toBeGreaterThanOrEqual(24);
    const dances = new Set(standardMoves.map(({ dance }) => dance).filter((dance) => dance !== 'own'));
    expect(dances.size).toBe(12);
    for (const dance of dances) {
      expect(
        standardMoves.some((m) => m.dance === dance && m.basic),
        dance,
      ).toBe(true);
    }
    for (const m of standardMoves.filter(({ cautions }) => cautions.includes('dip'))) {
      expect(m.saferForm, m.id).not.toBe('');
    }
  });

  // Published syllabus lists and the rec.arts.dance answers, in beats.
  it.each([
    ['waltz-box', 6],
    ['waltz-underarm', 6],
    ['waltz-hesitation', 6],
    ['waltz-natural-spin', 6],
    ['waltz-whisk', 3],
    ['waltz-chasse', 3],
    ['foxtrot-basic', 6],
    ['foxtrot-box', 8],
    ['rumba-box', 8],
    ['swing-basic', 6],
    ['swing-eight', 8],
    ['tango-basic', 8],
    ['nightclub-basic', 8],
  ])('%s takes %i counts', (id, counts) => expect(libraryMove(id).counts).toBe(counts));
});

describe('counts of a move on the board’s level', () => {
  it('doubles, halves, and takes thirds of a compound metre as beats of a dance in three', () => {
    const four = gridOf({ beatsPerBar: 4, countLevel: 'half' });
    expect(onBoard(libraryMove('foxtrot-box'), 8, four)).toBe(4);
    const compound = gridOf({ beatsPerBar: 2, subdivision: 3, countLevel: 'subdivision' });
    expect(onBoard(libraryMove('waltz-box'), 6, compound)).toBe(6);
    expect(onBoard(libraryMove('sway-four'), 4, compound)).toBe(12);
  });

  // Arithmetic: a six-count basic meets the bar of 4 again after 12 beats, by way of its third count.
  it('lets a six-count figure start on one and three of a bar of four, an eight-count one on one', () => {
    const grid = gridOf({ beatsPerBar: 4 });
    const starts = (id: string) => [0, 1, 2, 3].filter((inBar) => mayStartOn(libraryMove(id), inBar, grid));
    expect(starts('foxtrot-basic')).toEqual([0, 2]);
    expect(starts('foxtrot-box')).toEqual([0]);
  });
});

describe('placing', () => {
  const moves = ['waltz-box', 'waltz-underarm', 'waltz-whisk', 'dip-three'].map(libraryMove);

  it('lays a move out with its preparation before it, and repeats only what may follow itself', () => {
    const plan = planOf(
      {},
      {
        moves,
        placed: [placed('a', 'waltz-underarm', barAt(24), 2), placed('b', 'waltz-whisk', barAt(32), 2)],
      },
    );
    const [a, b] = laidOut(plan, boardScore(plan)!);
    expect(a).toMatchObject({ at: 72, counts: 12, end: 84, preparationFrom: 69, removedByEdit: false });
    expect(b).toMatchObject({ at: 96, counts: 9 });
  });

  it('says of a move that the edit removed that it did', () => {
    const plan = planOf(
      {},
      { moves, placed: [placed('a', 'waltz-underarm', barAt(60))], edit: cutOut(barAt(48), barAt(88)) },
    );
    expect(laidOut(plan, boardScore(plan)!)[0]).toMatchObject({ removedByEdit: true, at: 144 });
  });

  it('moves by count, bar and phrase, there and back', () => {
    const plan = planOf({}, { moves, placed: [placed('a', 'waltz-underarm', barAt(24))] });
    const score = boardScore(plan)!;
    for (const [unit, counts] of [
      ['count', 1],
      ['bar', 3],
      ['phrase', 24],
    ] as const) {
      const there = changePlan(plan, moveBy(plan, score, 'a', unit, 1));
      expect(laidOut(there, score)[0]!.at).toBe(72 + counts);
      const back = changePlan(there, moveBy(there, score, 'a', unit, -1));
      expect(back.placed).toEqual(plan.placed);
    }
    expect(moveBy(plan, score, 'a', 'phrase', 99)).toEqual([]);
  });

  it('fills what no move takes with the basic, and counts what is left over', () => {
    const plan = planOf({}, { moves, ending: endingOn(barAt(108), ['dip-three']) });
    const score = boardScore(plan)!;
    const after = changePlan(plan, placeAt(score, 'waltz-whisk', 72, 'a'));
    // First step on 24 (verse); whisk on 72..75; the dip begins on 321: 246 = 41 x 6.
    expect(basicStretches(after, score)).toMatchObject([
      { from: 24, counts: 48, whole: 8, left: 0, basic: { id: 'waltz-box' } },
      { from: 75, counts: 246, whole: 41, left: 0 },
    ]);
    const shifted = changePlan(plan, placeAt(score, 'waltz-whisk', 75, 'a'));
    expect(basicStretches(shifted, score).map(({ left }) => left)).toEqual([3, 3]);
  });

  // Arithmetic: 32 bars of 4/4 hold 128 beats; a six-beat basic fits 21 times, two beats are left over.
  it('fits SSQQ 21 times into 32 bars of four with two beats over', () => {
    const plan = planOf(
      { beatsPerBar: 4, bpm: 120, form: [['verse', 32]], tail: 0 },
      { moves: [libraryMove('foxtrot-basic')], heard: null },
    );
    const walkOn = { ...planOf().walkOn!, how: 'in place' as const, metres: 0, pace: 1, takeHold: 0 };
    const score = boardScore(plan)!;
    expect(score.length).toBeCloseTo(64, 6);
    const still = { ...plan, walkOn: { ...walkOn, from: '', firstStep: null, signal: '', lastWords: '' } };
    expect(basicStretches(still, score)).toMatchObject([{ counts: 128, whole: 21, left: 2 }]);
  });

  it('chooses a phrase of four bars in four, of eight in three', () => {
    expect(usualPhraseBars(gridOf({ beatsPerBar: 4 }))).toBe(4);
    expect(usualPhraseBars(gridOf({ beatsPerBar: 3 }))).toBe(8);
    expect(usualPhraseBars(gridOf({ beatsPerBar: 2, subdivision: 3 }))).toBe(4);
  });
});
