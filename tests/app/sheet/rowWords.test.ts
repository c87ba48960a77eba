import { describe, expect, it } from 'vitest';
import { rowName, rowWords } from '../../../app/_sheet/rowWords.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { inkOf } from '../../../lib/core/handover/sheetInk.ts';
import { rowCapacity, rowsOf } from '../../../lib/core/handover/sheetRows.ts';
import { floorTime } from '../../../lib/core/units.ts';
import { barAt, cueAt, cutOut, endingOn, libraryMove, micros, placed, planOf } from '../../kit/board.ts';

const plan = planOf(
  {},
  {
    moves: ['waltz-box', 'waltz-underarm', 'waltz-left-box', 'lean-three'].map(libraryMove),
    // The second begins two bars before its phrase ends, and takes four.
    placed: [placed('a', 'waltz-underarm', barAt(24), 2), placed('b', 'waltz-left-box', barAt(38) + 2 / 3)],
    cues: [cueAt('c', barAt(8), 'lanterns'), cueAt('d', barAt(12), 'harbour')],
    walkOn: { ...usualWalkOn, from: 'the garden door', firstStep: micros(barAt(8)) },
    ending: endingOn(barAt(108), ['lean-three']),
    edit: cutOut(barAt(48), barAt(72)),
  },
);
const score = boardScore(plan)!;
const rows = rowsOf(score, rowCapacity(3, false));
const inks = inkOf(plan, score, rows);
const words = (i: number) => rowWords(score, rows[i]!, inks[i]!);

it('a row is called by its word, or by when it begins, and never by a bare time', () => {
  const floor = floorTime(160);
  expect(rowName({ floor }, { cue: null })).toBe('the row from 2:40');
  expect(rowName(rows[1]!, inks[1]!)).toBe('the row of “lanterns”');
});

describe('a row read aloud', () => {
  it.each([
    ['the walk-on', 0, /^8 bars\. .*: walk on from the garden door, take hold\.$/],
    [
      'the first step, the basic, a word',
      1,
      /^8 bars\. At the start: the first step, and the basic\. After 4 bars: “harbour” is heard\.$/,
    ],
    [
      'a move and what follows it',
      3,
      /^8 bars\. At the start: underarm turn, twice\. After 4 bars: the basic\.$/,
    ],
    [
      'a move that runs over',
      4,
      /^8 bars\. At the start: the basic\. After 6 bars, on count 2: left turning box, which does not fit\.$/,
    ],
    [
      'what goes on from the row before',
      5,
      /^8 bars\. At the start: left turning box goes on\. After 2 bars, on count 2: the basic\.$/,
    ],
    ['a join', 6, /^8 bars\. At the start: a join, on the beat, and the basic\.$/],
  ])('tells %s', (_, i, said) => {
    expect(words(i)).toMatch(said);
  });

  it('tells the closing pose in the row in which it lands', () => {
    expect(rows.map((_, i) => words(i)).filter((said) => said.includes('closing pose'))).toHaveLength(1);
  });
});
