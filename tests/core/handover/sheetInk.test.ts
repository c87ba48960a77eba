import { describe, expect, it } from 'vitest';
import type { Plan } from '../../../lib/core/areas/plan.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { laidOut } from '../../../lib/core/dance/place.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { inkOf, ribbonLabel, walkWords } from '../../../lib/core/handover/sheetInk.ts';
import { rowCapacity, rowsOf } from '../../../lib/core/handover/sheetRows.ts';
import {
  barAt,
  cueAt,
  cutOut,
  endingOn,
  fadeAt,
  libraryMove,
  micros,
  placed,
  planOf,
} from '../../kit/board.ts';

const moves = ['waltz-box', 'waltz-underarm', 'waltz-left-box', 'waltz-whisk', 'dip-three'].map(libraryMove);

function drawn(more: Partial<Plan>, narrow = false) {
  const plan = planOf({}, { moves, ...more });
  const score = boardScore(plan)!;
  const rows = rowsOf(score, rowCapacity(score.countsPerBar, narrow));
  return { plan, score, rows, inks: inkOf(plan, score, rows) };
}

describe('moves on the sheet', () => {
  it('draws a move as one ribbon on its counts, with how often it is danced', () => {
    const { inks } = drawn({ placed: [placed('p', 'waltz-underarm', barAt(32), 2)] });
    // Bar 32 is the first of the fifth row; twice six counts.
    expect(inks[4]!.ribbons).toEqual([
      {
        id: 'p',
        part: 'placed',
        label: 'underarm turn, twice',
        ...{ from: 96, to: 108, begins: true, finishes: true },
        ...{ outline: false, raised: false, points: false },
      },
    ]);
  });

  it('lets the preparation taper at the end of the row before when the move starts on the first count', () => {
    const { inks } = drawn({ placed: [placed('p', 'waltz-underarm', barAt(32))] });
    expect(inks[3]!.tapers).toEqual([{ from: 93, to: 96, fromShare: 0, toShare: 1 }]);
    expect(inks[4]!.tapers).toEqual([]);
  });

  it('cuts a preparation that lies in two rows, growing all the way', () => {
    const { inks } = drawn({ placed: [placed('p', 'waltz-underarm', barAt(32) + 2 / 1.5)] });
    expect(inks[3]!.tapers[0]).toMatchObject({ from: 95, to: 96, fromShare: 0 });
    expect(inks[3]!.tapers[0]!.toShare).toBeCloseTo(1 / 3);
    expect(inks[4]!.tapers[0]!.fromShare).toBeCloseTo(1 / 3);
    expect(inks[4]!.tapers[0]).toMatchObject({ from: 96, to: 98, toShare: 1 });
  });

  it('draws what does not fit as an outline over the end of its row and on into the next', () => {
    const { inks } = drawn({ placed: [placed('p', 'waltz-left-box', barAt(38))] });
    expect(inks[4]!.ribbons[0]).toMatchObject({
      outline: true,
      from: 114,
      to: 120,
      begins: true,
      finishes: false,
    });
    expect(inks[5]!.ribbons[0]).toMatchObject({
      outline: true,
      from: 120,
      to: 126,
      begins: false,
      finishes: true,
    });
  });

  it('keeps a move solid that goes on into another row of the same phrase', () => {
    const { inks } = drawn({ placed: [placed('p', 'waltz-left-box', barAt(34))] }, true);
    const pieces = inks.flatMap(({ ribbons }) => ribbons);
    expect(pieces.map(({ from, to, outline }) => [from, to, outline])).toEqual([
      [102, 108, false],
      [108, 114, false],
    ]);
  });

  it('raises the later of two moves that overlap, and outlines both', () => {
    const { inks } = drawn({
      placed: [placed('a', 'waltz-left-box', barAt(32)), placed('b', 'waltz-whisk', barAt(33))],
    });
    expect(inks[4]!.ribbons.map(({ id, outline, raised }) => [id, outline, raised])).toEqual([
      ['a', true, false],
      ['b', true, true],
    ]);
  });

  it('says when the edit left the place of a move out', () => {
    const { plan, score } = drawn({
      placed: [placed('p', 'waltz-whisk', barAt(50))],
      edit: cutOut(barAt(48), barAt(88)),
    });
    expect(ribbonLabel(laidOut(plan, score)[0]!)).toBe('whisk (its place is left out)');
  });

  it('fills with the basic what no move takes, from the first step on', () => {
    const { inks } = drawn({
      placed: [placed('p', 'waltz-underarm', barAt(8))],
      walkOn: { ...usualWalkOn, firstStep: micros(barAt(8)) },
    });
    expect(inks[0]!.basics).toEqual([]);
    expect(inks[1]!.basics).toEqual([{ from: 30, to: 48 }]);
    expect(inks[2]!.basics).toEqual([{ from: 48, to: 72 }]);
  });
});

describe('coming on, and the end', () => {
  it('writes the walk in the rows before the first step', () => {
    const { inks } = drawn({
      walkOn: { ...usualWalkOn, from: 'the garden door', firstStep: micros(barAt(8)) },
    });
    // 8 m at 1.27 m/s and 4 s to take hold are 10.3 s: come on at 5.7 s, on count 8.
    expect(inks[0]!.walkWords).toEqual({ at: 8, words: 'walk on from the garden door, take hold' });
    expect(inks[0]!.walk).toEqual({ from: 8, to: 24 });
    expect(inks[1]!.firstStep).toBe(24);
    expect(walkWords({ ...usualWalkOn, how: 'in place' })).toBe('in place, take hold');
  });

  it('marks the landing with how long the pose is kept, and the line of it', () => {
    const { inks } = drawn({ ending: endingOn(barAt(109), ['waltz-underarm', 'dip-three']) });
    const last = inks[13]!;
    expect(last.landing).toEqual({ at: 327, words: 'closing pose 3:38, kept 4 s, facing the windows' });
    expect(last.hold).toEqual({ from: 327, to: 333 });
    expect(last.ribbons.at(-1)).toMatchObject({ label: 'dip', points: true, to: 327 });
  });

  it('lets the ink fade from where the fade begins', () => {
    const { inks, score } = drawn({ edit: fadeAt(barAt(60), 8) });
    const fading = inks.flatMap(({ fade }) => fade ?? []);
    expect(fading).toEqual([{ from: 180, to: score.counts.length }]);
  });

  it('puts a stitch on the first count after a join', () => {
    const { inks } = drawn({ edit: cutOut(barAt(48), barAt(88)) });
    expect(inks[6]!.seams).toEqual([{ at: 144, clean: true }]);
  });
});

describe('cue words', () => {
  const cues = [
    cueAt('up', barAt(8) - 0.5, 'and'),
    cueAt('mid', barAt(12), 'harbour'),
    cueAt('late', barAt(16) + 1, 'slowly'),
  ];
  it('opens a row with the word at its first count, its pick-up or in its first bar', () => {
    const { inks } = drawn({ cues });
    expect(inks[0]!.cue).toBeNull();
    expect(inks[1]!.cue?.word).toBe('and');
    expect(inks[2]!.cue?.word).toBe('slowly');
  });
  it('writes later words where they are heard', () => {
    const { inks } = drawn({ cues });
    expect(inks[1]!.words).toEqual([{ id: 'mid', at: 36, word: 'harbour' }]);
    expect(inks[0]!.words).toEqual([]);
  });
  it('shows each word that is played exactly once', () => {
    const many = Array.from({ length: 60 }, (_, i) => cueAt(`c${i}`, i * 3.7, `w${i}`));
    for (const narrow of [false, true]) {
      const { inks } = drawn({ cues: many }, narrow);
      const shown = inks.flatMap(({ cue, words }) => [
        ...(cue ? [cue.id] : []),
        ...words.map(({ id }) => id),
      ]);
      expect(shown.sort()).toEqual(many.map(({ id }) => id).sort());
    }
  });
  it('says which word is the signal for the ending', () => {
    const { inks } = drawn({
      cues: [cueAt('c', barAt(104), 'homeward')],
      ending: endingOn(barAt(109), ['waltz-underarm', 'dip-three']),
    });
    expect(inks.map(({ signal }) => signal).lastIndexOf(true)).toBe(13);
  });
});
