import { describe, expect, it } from 'vitest';
import { calibrationOf, wilson } from '../../../lib/core/song/calibration.ts';

describe('Wilson interval at 90 % (Wilson 1927)', () => {
  // Redone by hand: centre (p + z²/2n) / (1 + z²/n), z = 1.6449.
  it.each([
    { share: 0.9, n: 100, low: 0.8396, high: 0.9393 },
    { share: 1, n: 24, low: 0.8987, high: 1 },
    { share: 0, n: 24, low: 0, high: 0.1013 },
    { share: 0.5, n: 10, low: 0.269, high: 0.731 },
  ])('$share of $n', ({ share, n, low, high }) => {
    expect(wilson(share, n)[0]).toBeCloseTo(low, 3);
    expect(wilson(share, n)[1]).toBeCloseTo(high, 3);
  });

  it('of no trials says nothing', () => expect(wilson(0, 0)).toEqual([0, 1]));
});

describe('calibration (Naeini, Cooper and Hauskrecht 2015)', () => {
  it('is without error where nine of ten at 0.9 are right', () => {
    const claims = Array.from({ length: 10 }, (_, i) => ({ said: 0.9, right: Number(i > 0) }));
    expect(calibrationOf(claims)).toMatchObject({ n: 10, doubted: 0 });
    expect(calibrationOf(claims).error).toBeCloseTo(0, 10);
  });

  it('weighs each bin by what is in it (arithmetic)', () => {
    const sure = Array.from({ length: 3 }, () => ({ said: 1, right: 1 }));
    const { error, bins, doubted } = calibrationOf([...sure, { said: 0.65, right: 0 }]);
    expect(error).toBeCloseTo(0.65 / 4, 10);
    expect(doubted).toBe(0.25);
    expect(bins.map(({ from, n }) => [from, n])).toEqual([
      [0.6, 1],
      [0.9, 3],
    ]);
  });

  it('of nothing is nothing', () =>
    expect(calibrationOf([])).toEqual({ n: 0, error: 0, doubted: 0, bins: [] }));
});
