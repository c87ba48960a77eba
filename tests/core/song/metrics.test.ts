import { describe, expect, it } from 'vitest';
import * as metrics from '../../../lib/core/song/metrics.ts';

const even = (count: number, period: number, from = 0): number[] =>
  Array.from({ length: count }, (_, i) => from + i * period);

describe('beat F (Davies, Degara and Plumbley 2009)', () => {
  it('100 beats annotated, 90 found, 84 matched: F 0.8842 (arithmetic)', () => {
    const truth = even(100, 1, 10);
    const heard = [...truth.slice(0, 84), ...truth.slice(84, 90).map((t) => t + 0.4)];
    expect(metrics.beatF(truth, heard)).toBeCloseTo((2 * 84) / 190, 10);
    expect(metrics.beatF(truth, heard)).toBeCloseTo(0.8842, 4);
  });

  it('120 beats a minute shifted by 60 ms: F 1; by 80 ms: F 0 (arithmetic)', () => {
    const truth = even(200, 0.5, 6);
    expect(
      metrics.beatF(
        truth,
        truth.map((t) => t + 0.06),
      ),
    ).toBe(1);
    expect(
      metrics.beatF(
        truth,
        truth.map((t) => t + 0.08),
      ),
    ).toBe(0);
  });

  it('beats before five seconds are not judged', () => {
    const truth = even(40, 0.5, 0);
    expect(
      metrics.beatF(
        truth,
        truth.filter((t) => t >= 5),
      ),
    ).toBe(1);
  });

  it('matches one to one', () => {
    expect(metrics.eventF([10], [10, 10.01, 10.02], 0.07)).toBeCloseTo(0.5, 10);
    expect(metrics.eventF([], [], 0.07)).toBe(0);
  });
});

describe('continuity (Hainsworth 2004; Davies, Degara and Plumbley 2009)', () => {
  const truth = even(120, 0.5, 6);
  it('the same beats: 1 and 1', () => {
    expect(metrics.continuity(truth, truth)).toEqual({ cmlt: 1, amlt: 1 });
  });
  it('half the tempo, double the tempo and the off-beat are right only at another level', () => {
    const half = truth.filter((_, i) => i % 2 === 0);
    expect(metrics.continuity(truth, half).cmlt).toBeLessThan(0.1);
    expect(metrics.continuity(truth, half).amlt).toBe(1);
    expect(metrics.continuity(truth, even(239, 0.25, 6)).amlt).toBe(1);
    const off = truth.slice(0, -1).map((t) => t + 0.25);
    expect(metrics.continuity(truth, off).cmlt).toBe(0);
    expect(metrics.continuity(truth, off).amlt).toBe(1);
  });
  it('beats later by more than 17.5 % of the interval are wrong at every level', () => {
    expect(
      metrics.continuity(
        truth,
        truth.map((t) => t + 0.1),
      ).amlt,
    ).toBeLessThan(0.1);
  });
});

describe('tempo (Gouyon et al. 2006)', () => {
  it('within 4 %, and at twice, thrice, half and a third of it', () => {
    expect(metrics.tempoRight(120, 124)).toEqual({ tempo1: true, tempo2: true });
    expect(metrics.tempoRight(120, 126)).toEqual({ tempo1: false, tempo2: false });
    expect(metrics.tempoRight(120, 60)).toEqual({ tempo1: false, tempo2: true });
    expect(metrics.tempoRight(120, 360)).toEqual({ tempo1: false, tempo2: true });
    expect(metrics.tempoOf(even(10, 0.5))).toBeCloseTo(120, 10);
  });
});

describe('sections', () => {
  const truth = [
    { start: 0, end: 20, like: 'A' },
    { start: 20, end: 40, like: 'B' },
    { start: 40, end: 60, like: 'A' },
  ];
  it('boundaries within a window (Turnbull et al. 2007)', () => {
    const late = truth.map((s) => ({ ...s, start: s.start + 1, end: s.end + 1 }));
    expect(metrics.boundaryF(truth, truth, 0.5)).toBe(1);
    expect(metrics.boundaryF(truth, late, 0.5)).toBe(0);
    expect(metrics.boundaryF(truth, late, 3)).toBe(1);
  });
  it('pairs of frames (Levy and Sandler 2008): letters do not matter, one letter for all costs', () => {
    const renamed = truth.map((s) => ({ ...s, like: s.like === 'A' ? 'X' : 'Y' }));
    expect(metrics.sameMusicF(truth, renamed)).toBeCloseTo(1, 10);
    // 400 and 200 frames: pairs together 79800 + 19900; all of one letter 179700.
    const one = truth.map((s) => ({ ...s, like: 'A' }));
    expect(metrics.sameMusicF(truth, one)).toBeCloseTo((2 * 99700) / (99700 + 179700), 10);
    expect(metrics.sameMusicF(truth, [])).toBe(0);
  });
});

describe('metre and key', () => {
  it('are the same or not', () => {
    expect(metrics.metreOk({ beats: 3, subdivision: 2 }, { beats: 3, subdivision: 2 })).toBe(true);
    expect(metrics.metreOk({ beats: 2, subdivision: 3 }, { beats: 2, subdivision: 2 })).toBe(false);
    expect(metrics.keyOk('C# minor', 'Db minor')).toBe(true);
    expect(metrics.keyOk('C major', 'A minor')).toBe(false);
  });
});
