import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as correct from '../../../lib/core/song/correct.ts';
import { type Grid, type GridAspect, grid as gridSchema } from '../../../lib/core/song/grid.ts';
import { confirmGrid } from '../../../lib/core/song/signing.ts';
import { recordTime, wholeMicros } from '../../../lib/core/units.ts';
import { dice } from '../../kit/synth.ts';

const gridOf = (count: number, period: number, beatsPerBar: 2 | 3 | 4, from = 1): Grid => ({
  beats: Array.from({ length: count }, (_, i) => recordTime(wholeMicros(from + i * period))),
  bars: Array.from({ length: Math.ceil(count / beatsPerBar) }, (_, i) => i * beatsPerBar),
  beatsPerBar,
  subdivision: 2,
  countLevel: 'beat',
  confirmedBy: { metre: 'Ana', beats: 'Ana', bars: 'Ana' },
});
const barTimes = (grid: Grid): number[] => grid.bars.map((i) => grid.beats[i]!);
const taps = (from: number, period: number, count = 8, jitter = 0.02) => {
  const random = dice(7);
  return Array.from({ length: count }, (_, i) => recordTime(from + i * period + jitter * (2 * random() - 1)));
};

describe('tapping along', () => {
  it('eight taps at half the heard tempo keep the exact heard times of every second beat', () => {
    const grid = gridOf(100, 0.5, 4);
    const tapped = correct.tapAlong(grid, taps(11.5, 1), 'Ben');
    expect(tapped.beats[1]! - tapped.beats[0]!).toBeCloseTo(1, 9);
    expect(tapped.beats.every((t) => grid.beats.includes(t))).toBe(true);
    expect(barTimes(tapped)).toContain(11.5);
    expect(tapped.confirmedBy.beats).toBe('Ben');
  });

  it('twice the heard tempo puts a beat between', () => {
    const tapped = correct.tapAlong(gridOf(60, 1, 4), taps(10, 0.5), 'Ben');
    expect(tapped.beats[1]! - tapped.beats[0]!).toBeCloseTo(0.5, 9);
    expect(barTimes(tapped)).toContain(10);
  });

  it('the same tempo: the first tap is the one', () => {
    const tapped = correct.tapAlong(gridOf(100, 0.5, 4), taps(12.5, 0.5), 'Ben');
    expect(tapped.beats).toHaveLength(100);
    expect(barTimes(tapped)).toContain(12.5);
    expect(barTimes(tapped)[0]).toBe(2.5);
  });

  it('another tempo altogether: an even grid through the taps', () => {
    const tapped = correct.tapAlong(gridOf(100, 0.5, 4), taps(10, 0.7, 8, 0.01), 'Ben');
    const first = tapped.beats.findIndex((t) => Math.abs(t - 10) < 0.02);
    expect(first).toBeGreaterThan(0);
    expect(tapped.beats[first + 7]! - tapped.beats[first]!).toBeCloseTo(4.9, 1);
    expect(tapped.beats.at(-1)!).toBeGreaterThan(49);
  });

  it('works where nothing was heard, and runs until it is told', () => {
    const empty: Grid = { ...gridOf(0, 1, 3), bars: [], beats: [] };
    const tapped = correct.tapAlong(empty, taps(4, 0.6), 'Ben', recordTime(60));
    expect(tapped.beats.length).toBeGreaterThan(90);
    expect(gridSchema.safeParse(tapped).success).toBe(true);
  });

  it('fewer than four taps change nothing', () => {
    const grid = gridOf(20, 0.5, 4);
    expect(correct.tapAlong(grid, taps(3, 0.9, 3), 'Ben')).toBe(grid);
  });
});

describe('one-gesture corrections', () => {
  it('bar starts here moves bar lines, not beats', () => {
    const grid = gridOf(40, 0.5, 4);
    const moved = correct.barStartsHere(grid, recordTime(6.45), 'Ben');
    expect(moved.beats).toEqual(grid.beats);
    expect(barTimes(moved)).toContain(6.5);
    expect(moved.bars[0]).toBe(3);
  });

  it('bar starts here stays within the stretch before and after a stop', () => {
    const grid = gridOf(40, 0.5, 4);
    const stopped = { ...grid, beats: grid.beats.map((t, i) => recordTime(i < 20 ? t : t + 5)) };
    const moved = correct.barStartsHere(stopped, recordTime(stopped.beats[21]!), 'Ben');
    expect(moved.bars).toEqual([0, 4, 8, 12, 16, 21, 25, 29, 33, 37]);
  });

  it('twice as fast and back is the same grid', () => {
    const grid = gridOf(41, 0.5, 4);
    const twice = correct.twiceAsFast(grid, 'Ben');
    expect(twice.beats).toHaveLength(81);
    expect(barTimes(twice).slice(0, 3)).toEqual([1, 2, 3]);
    expect(correct.halfAsFast(twice, 'Ben').beats).toEqual(grid.beats);
    expect(correct.halfAsFast(twice, 'Ben').bars).toEqual(grid.bars);
  });

  it('half as fast keeps the beats that open bars', () => {
    const half = correct.halfAsFast({ ...gridOf(40, 0.5, 4), bars: [1, 5, 9] }, 'Ben');
    expect(barTimes(half).slice(0, 2)).toEqual([1.5, 5.5]);
    expect(half.beats[0]).toBe(1.5);
  });

  it('three beats of two become two beats of three in the same bars, and back', () => {
    const grid = gridOf(30, 0.4, 3);
    const six8 = correct.metreOf(grid, 2, 3, 'Ben');
    expect(barTimes(six8)).toEqual(barTimes(grid));
    expect(six8.beats[1]! - six8.beats[0]!).toBeCloseTo(0.6, 6);
    expect(barTimes(correct.metreOf(six8, 3, 2, 'Ben'))).toEqual(barTimes(grid));
  });

  it('another number of beats counts bars anew and keeps the beats', () => {
    const grid = gridOf(24, 0.5, 4);
    const three = correct.metreOf({ ...grid, countLevel: 'half' }, 3, 2, 'Ben');
    expect(three.beats).toEqual(grid.beats);
    expect(three.bars).toEqual([0, 3, 6, 9, 12, 15, 18, 21]);
    expect(three.countLevel).toBe('beat');
  });

  it('offers only the count levels that the metre has', () => {
    expect(correct.countLevelsOf({ beatsPerBar: 3, subdivision: 2 })).toEqual(['beat']);
    expect(correct.countLevelsOf({ beatsPerBar: 2, subdivision: 3 })).toEqual([
      'subdivision',
      'beat',
      'half',
    ]);
    expect(correct.countLevelOf(gridOf(8, 1, 3), 'half').countLevel).toBe('beat');
    expect(correct.countLevelOf(gridOf(8, 1, 4), 'half').countLevel).toBe('half');
  });

  it('shifting leaves out what would lie before the recording', () => {
    const shifted = correct.shiftBy(gridOf(9, 0.5, 4, 0.1), -150, 'Ben');
    expect(shifted.beats[0]).toBeCloseTo(0.45, 9);
    expect(shifted.bars).toEqual([3, 7]);
  });

  it('confirming names who did it', () => {
    const byAna = gridOf(8, 1, 4).confirmedBy;
    const confirmed = (by: string) => confirmGrid(gridOf(8, 1, 4), ['bars'], by).confirmedBy;
    expect(confirmed(' Ben ')).toEqual({ ...byAna, bars: 'Ben' });
    expect(confirmed(' ')).toEqual({ ...byAna, bars: null });
  });

  it('every correction of every grid is a valid grid', () => {
    const anyGrid = fc
      .record({
        steps: fc.array(fc.double({ min: 0.2, max: 3, noNaN: true }), { maxLength: 40 }),
        beatsPerBar: fc.constantFrom(2 as const, 3 as const, 4 as const),
        first: fc.nat(3),
      })
      .map(({ steps, beatsPerBar, first }): Grid => {
        let at = 0;
        const beats = steps.map((step) => {
          at += step;
          return recordTime(wholeMicros(at));
        });
        const bars = beats.flatMap((_, i) => ((i - first) % beatsPerBar === 0 ? [i] : []));
        return { ...gridOf(0, 1, beatsPerBar), beats, bars };
      });
    const at = fc.double({ min: 0, max: 90, noNaN: true });
    fc.assert(
      fc.property(anyGrid, at, fc.double({ min: 0.2, max: 2, noNaN: true }), (grid, time, period) => {
        const results = [
          correct.tapAlong(grid, taps(time, period), 'Ben'),
          correct.barStartsHere(grid, recordTime(time), 'Ben'),
          correct.twiceAsFast(grid, 'Ben'),
          correct.halfAsFast(grid, 'Ben'),
          correct.metreOf(grid, 3, 2, 'Ben'),
          correct.metreOf(grid, 2, 3, 'Ben'),
          correct.shiftBy(grid, -1000 * time, 'Ben'),
        ];
        for (const result of results) {
          expect(gridSchema.safeParse(result).error?.issues ?? []).toEqual([]);
          expect(result.bars.every((i) => i < result.beats.length)).toBe(true);
        }
      }),
      { numRuns: 200 },
    );
  });
});

describe('a correction confirms what was looked at for it, and opens what it changes besides', () => {
  const grid = gridOf(100, 0.5, 4);
  const open = (aspects: readonly GridAspect[]) => confirmGrid(grid, aspects, '');
  /** Whose word each is: of Ana before, of Ben who corrects it, or nobody's. */
  const rows: [what: string, of: (grid: Grid) => Grid, metre: unknown, beats: unknown, bars: unknown][] = [
    ['taps that agree with all', (of) => correct.tapAlong(of, taps(11, 0.5), 'Ben'), 'Ana', 'Ben', 'Ana'],
    ['taps on another one', (of) => correct.tapAlong(of, taps(11.5, 0.5), 'Ben'), 'Ana', 'Ben', null],
    ['taps half as fast', (of) => correct.tapAlong(of, taps(11, 1), 'Ben'), null, 'Ben', null],
    ['too few taps', (of) => correct.tapAlong(of, taps(11, 0.5, 3), 'Ben'), 'Ana', 'Ana', 'Ana'],
    ['a bar starts here', (of) => correct.barStartsHere(of, recordTime(7.5), 'Ben'), 'Ana', 'Ana', 'Ben'],
    ['twice as fast', (of) => correct.twiceAsFast(of, 'Ben'), null, 'Ben', null],
    ['half as fast', (of) => correct.halfAsFast(of, 'Ben'), null, 'Ben', null],
    ['another metre', (of) => correct.metreOf(of, 3, 2, 'Ben'), 'Ben', 'Ana', null],
    ['the same metre', (of) => correct.metreOf(of, 4, 2, 'Ben'), 'Ben', 'Ana', 'Ana'],
    ['later by milliseconds', (of) => correct.shiftBy(of, 10, 'Ben'), 'Ana', 'Ben', 'Ana'],
    ['another level', (of) => correct.countLevelOf(of, 'half'), 'Ana', 'Ana', 'Ana'],
  ];
  it.each(rows)('%s', (_, corrected, metre, beats, bars) => {
    expect(corrected(grid).confirmedBy).toEqual({ metre, beats, bars });
    // What nobody had confirmed is never confirmed by the way.
    const now = corrected(open(['metre', 'beats', 'bars'])).confirmedBy;
    const bens = (by: unknown) => (by === 'Ben' ? 'Ben' : null);
    expect(now).toEqual({ metre: bens(metre), beats: bens(beats), bars: bens(bars) });
  });

  it('three beats of two that become two of three in the same bars have other beats, and the bars as before', () => {
    const next = correct.metreOf(gridOf(30, 0.4, 3), 2, 3, 'Ben');
    expect(next.confirmedBy).toEqual({ metre: 'Ben', beats: null, bars: 'Ana' });
  });
});

describe('grids from annotations', () => {
  it('positions open bars', () => {
    const grid = correct.gridFromBeats([0.5, 1, 1.5, 2, 2.5, 3, 3.5], [3, 1, 2, 3, 1, 2, 3]);
    expect(grid).toMatchObject({ beatsPerBar: 3, subdivision: 2, bars: [1, 4] });
  });
  it('bars counted in six are two beats of three', () => {
    const times = Array.from({ length: 24 }, (_, i) => i * 0.3);
    const grid = correct.gridFromBeats(
      times,
      times.map((_, i) => (i % 6) + 1),
    );
    expect(grid).toMatchObject({ beatsPerBar: 2, subdivision: 3, bars: [0, 2, 4, 6] });
    expect(grid.beats).toHaveLength(8);
  });
});
