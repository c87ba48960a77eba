import { describe, expect, it } from 'vitest';
import { captionsOf, isQuietAbove, landingSide } from '../../../app/_sheet/captions.ts';
import { handsOf } from '../../../app/_sheet/presence.tsx';
import { fitting, outlinePath, ribbonPath, tintPath } from '../../../app/_sheet/shapes.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { inkOf, type RowInk } from '../../../lib/core/handover/sheetInk.ts';
import { rowsOf } from '../../../lib/core/handover/sheetRows.ts';
import { barAt, endingOn, libraryMove, placed, planOf } from '../../kit/board.ts';

const whole = { begins: true, finishes: true, points: false };

describe('shapes', () => {
  it('rounds a ribbon where the move begins and ends, and leaves it straight where it goes on', () => {
    expect(ribbonPath(0, 100, 30, whole).match(/A/g)).toHaveLength(2);
    expect(ribbonPath(0, 100, 30, { ...whole, finishes: false }).match(/A/g)).toHaveLength(1);
    expect(ribbonPath(0, 100, 30, { ...whole, points: true })).toContain('L100 30');
  });
  it('leaves an outline open on the side on which the move goes on', () => {
    expect(outlinePath(0, 100, 30, whole)).toBe('M0 41 V19 H100 V41 H0');
    expect(outlinePath(0, 100, 30, { ...whole, finishes: false })).toBe('M0 41 V19 H100 M100 41 H0');
    expect(outlinePath(0, 100, 30, { ...whole, begins: false })).toBe('M0 19 H100 V41 H0');
  });
  it('shortens a text to its room, and says nothing rather than a stump', () => {
    expect(fitting('left turning box', 400)).toBe('left turning box');
    expect(fitting('left turning box', 80)).toBe('\u2068left turni…\u2069');
    expect(fitting('left turning box', 20)).toBe('');
    expect(fitting('W'.repeat(60), 80)).toBe('\u2068WWWWW…\u2069');
    expect(fitting('手臂下的左转方块步', 80)).toBe('\u2068手臂下的左…\u2069');
    expect(fitting('turn 💃💃💃💃💃💃', 80)).toBe('\u2068turn 💃💃…\u2069');
  });
  it('draws no tint where nothing is known of the loudness', () => {
    expect(tintPath([], 20)).toBe('');
    expect(
      tintPath(
        [
          [0, 0],
          [1, 1],
        ],
        20,
      ),
    ).toBe('M0 47 L0 50 L20 60 L20 47 Z');
  });
});

describe('words above the line', () => {
  const moves = ['waltz-box', 'waltz-whisk', 'waltz-left-box', 'dip-three'].map(libraryMove);
  const lastRow = (bar: number, more = {}): RowInk => {
    const plan = planOf({}, { moves, ending: endingOn(barAt(bar), ['dip-three']), ...more });
    const score = boardScore(plan)!;
    const inks = inkOf(plan, score, rowsOf(score, 24));
    return inks.find(({ landing }) => landing)!;
  };
  const at = (unit: number) => (count: number) => (count - 312) * unit;
  const words = 'closing pose 3:38, kept 4 s, facing the windows';

  it('stand beside the fermata where there is room, right before left', () => {
    expect(landingSide(lastRow(105), at(35), 840)).toBe('right');
    expect(landingSide(lastRow(111), at(35), 840)).toBe('left');
  });
  it('go over the row where there is none, or where other words stand, as near as they fit', () => {
    expect(landingSide(lastRow(109), at(13), 312)).toBeNull();
    expect(captionsOf(lastRow(109), at(13), 312)).toEqual([{ words, gold: true, from: 0 }]);
    expect(captionsOf(lastRow(109), at(13), 400)[0]?.from).toBeCloseTo(61.6);
    const crowded = lastRow(111, {
      placed: [placed('p', 'waltz-left-box', barAt(106) + 1), placed('q', 'waltz-whisk', barAt(107))],
    });
    expect(landingSide(crowded, at(35), 840)).toBeNull();
  });
  it('keep a row from moving up to its word on a narrow page', () => {
    expect(isQuietAbove(lastRow(109), at(13))).toBe(false);
    const plan = planOf({}, { moves, placed: [placed('p', 'waltz-whisk', barAt(32))] });
    const score = boardScore(plan)!;
    const row = inkOf(plan, score, rowsOf(score, 24))[4]!;
    expect(isQuietAbove(row, (count) => (count - 96) * 35)).toBe(true);
    expect(isQuietAbove(row, (count) => (count - 96) * 10)).toBe(false);
  });
});

describe('who has what in hand', () => {
  it('names the others, by role where they have no name, each once', () => {
    const someone = { key: 1, me: false, role: 'couple' as const, at: 'placed-1' };
    const hands = handsOf([
      { ...someone, name: 'Noor' },
      { ...someone, key: 2, name: 'Noor' },
      { ...someone, key: 3, name: '', role: 'instructor' },
      { ...someone, key: 4, name: 'Elias', me: true },
      { ...someone, key: 5, name: 'Elias', at: '' },
    ]);
    expect([...hands]).toEqual([['placed-1', 'Noor|instructor']]);
  });
});
