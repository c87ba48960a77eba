import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { follow, LOOSE, STRICT, settled } from '../../../lib/core/song/follow.ts';
import { nearest } from '../../../lib/core/song/stretches.ts';
import { dice } from '../../kit/synth.ts';

/** Activations of 100 a second whose peaks are at given moments, some missing, with noise between them. */
function curve(moments: readonly number[], seconds: number, random: () => number, missing = 0) {
  const rate = 100;
  const beat = Float32Array.from({ length: Math.round(seconds * rate) }, () => 0.08 * random());
  for (const t of moments) {
    if (random() < missing) continue;
    // Found a little late, as onsets are.
    const at = (t + 0.005) * rate;
    for (let i = Math.max(0, Math.floor(at - 3)); i <= at + 3 && i < beat.length; i++) {
      beat[i] = Math.max(beat[i]!, Math.exp(-(((i - at) / 1.2) ** 2) / 2));
    }
  }
  return { rate, beat };
}

/** Beats from 1 s on whose intervals follow a curve. */
function beatsBy(period: (n: number) => number, count: number): number[] {
  const beats = [1];
  for (let n = 1; n < count; n++) beats.push(beats[n - 1]! + period(n));
  return beats;
}

const off = (found: readonly number[], t: number): number => Math.abs(found[nearest(found, t)]! - t);
const farthest = (truth: readonly number[], found: readonly number[]): number =>
  Math.max(...truth.map((t) => off(found, t)));

describe('beats that are followed', () => {
  it('keep to music whose tempo breathes, where no even grid would', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.double({ min: 0.36, max: 0.9, noNaN: true }),
        (seed, period) => {
          const random = dice(seed);
          const truth = beatsBy((n) => period * (1 + 0.12 * Math.sin(n / 5)), 100);
          const activations = curve(truth, truth.at(-1)! + 1, random, 0.05);
          const found = follow(activations, { pace: () => period, play: LOOSE });
          const beats = settled(activations, found);
          const right = truth.filter((t) => off(beats, t) < 0.04).length;
          expect(right / truth.length).toBeGreaterThan(0.95);
        },
      ),
      { numRuns: 12 },
    );
  });

  it('wait through a held note, and say where', () => {
    const truth = beatsBy((n) => (n === 40 ? 2.25 : 0.5), 90);
    const activations = curve(truth, truth.at(-1)! + 1, dice(3));
    const { beats, waits } = follow(activations, { pace: () => 0.5, play: STRICT });
    expect(waits).toHaveLength(1);
    expect(off([beats[waits[0]!]!], truth[39]!)).toBeLessThan(0.03);
    expect(off([beats[waits[0]! + 1]!], truth[40]!)).toBeLessThan(0.03);
    expect(farthest(truth, beats)).toBeLessThan(0.03);
  });

  it('go on evenly through missing onsets, without a wait', () => {
    const truth = beatsBy(() => 0.5, 120);
    const heard = truth.filter((_, i) => i < 40 || i > 44);
    const { beats, waits } = follow(curve(heard, 63, dice(5)), { pace: () => 0.5, play: STRICT });
    expect(waits).toEqual([]);
    expect(farthest(truth, beats)).toBeLessThan(0.05);
  });

  it('are silent where somebody stopped the counts, and begin again after it', () => {
    const truth = beatsBy(() => 0.5, 120);
    const { beats, waits } = follow(curve(truth, 63, dice(7)), {
      pace: () => 0.5,
      play: STRICT,
      silent: [[20.2, 34.3]],
    });
    expect(beats.filter((t) => t > 20.2 && t < 34.3)).toEqual([]);
    expect(waits).toHaveLength(1);
    expect(beats.some((t) => t < 20.2)).toBe(true);
    expect(
      farthest(
        truth.filter((t) => t > 36),
        beats,
      ),
    ).toBeLessThan(0.03);
  });

  it('go where somebody tapped, also where nothing is heard', () => {
    const truth = beatsBy(() => 0.5, 60).filter((t) => t > 12);
    const taps = Array.from({ length: 8 }, (_, i) => 3.17 + 0.5 * i);
    const { beats } = follow(curve(truth, 32, dice(9)), { pace: () => 0.5, play: STRICT, beats: taps });
    expect(farthest(taps, beats)).toBeLessThan(0.03);
  });
});
