import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { delaysOf, handFit } from '../../../lib/core/song/hand.ts';
import { dice } from '../../kit/synth.ts';

const normal = (random: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
const moments = Array.from({ length: 200 }, (_, i) => 0.7 * i);

/** Eight taps, 30 ms off by chance and all late by the same. */
const tapsOf = (seed: number, late: number) => {
  const random = dice(seed);
  return Array.from({ length: 8 }, (_, i) => 0.7 * (20 + i) + late + 0.03 * normal(random));
};

describe('a hand', () => {
  it('that is late by up to 150 ms is found out, within what its jitter leaves in doubt', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.double({ min: 0, max: 0.15, noNaN: true }),
        (seed, late) => {
          const fit = handFit(tapsOf(seed, late), moments, 0.95, true);
          // Four standard errors of a mean of eight, and the step of the search.
          expect(Math.abs(fit.late - late)).toBeLessThan((4 * 0.03) / Math.sqrt(8) + 0.01);
        },
      ),
      { numRuns: 100 },
    );
  });

  it('that goes wrong twice in eight is still understood', () => {
    const taps = tapsOf(4, 0.1).map((t, i) => (i === 2 || i === 5 ? t + 0.31 : t));
    expect(handFit(taps, moments, 0.95, true).late).toBeCloseTo(0.1, 1);
  });

  it('fits what it means better than what lies half way between', () => {
    const taps = tapsOf(6, 0.06);
    const between = moments.map((t) => t + 0.35);
    expect(handFit(taps, moments, 0.95, true).likely).toBeGreaterThan(
      handFit(taps, between, 0.95, true).likely + 5,
    );
  });

  it('is taken at its word where nothing is heard', () => {
    expect(delaysOf(tapsOf(8, 0.1), () => 0)).toEqual([0]);
  });

  it('is late by what brings it to the sound', () => {
    const heard = (at: number) => (Math.abs(at / 0.7 - Math.round(at / 0.7)) < 0.03 ? 1 : 0);
    expect(delaysOf(tapsOf(9, 0.12), heard)[0]).toBeCloseTo(0.12, 1);
  });
});
