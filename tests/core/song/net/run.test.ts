import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { framesOf } from '../../../../lib/core/song/frames.ts';
import { eventF } from '../../../../lib/core/song/metrics.ts';
import { crestAt, netCurves } from '../../../../lib/core/song/net/curves.ts';
import { BANDS, TONES } from '../../../../lib/core/song/net/input.ts';
import { layerOf, multiply } from '../../../../lib/core/song/net/multiply.ts';
import { runNet } from '../../../../lib/core/song/net/run.ts';
import { synth } from '../../../kit/synth.ts';

/** What PyTorch answered to the same weights and input: written by tests/ear/export.py. */
const golden: { steps: number; heads: number[]; metre: number[] } = JSON.parse(
  readFileSync(new URL('../../../ear/golden.json', import.meta.url), 'utf8'),
);
const { steps } = golden;
const input = {
  steps,
  rate: 25,
  bands: Float32Array.from(
    { length: 2 * BANDS * steps },
    (_, k) => 2 + 2 * Math.sin(k * 0.37) * Math.sin(k * 0.0113),
  ),
  tones: Float32Array.from(
    { length: TONES * steps },
    (_, k) => 2 + 2 * Math.sin(k * 0.53) * Math.cos(k * 0.0171),
  ),
};

describe('the learned ear', () => {
  it('answers as the framework does that trained it', () => {
    const { heads, metre } = runNet(input);
    expect(heads).toHaveLength(golden.heads.length);
    // Half-precision scales differ from the framework's single ones by so much.
    golden.heads.forEach((value, i) => {
      expect(Math.abs(heads[i]! - value)).toBeLessThan(0.01);
    });
    golden.metre.forEach((value, i) => {
      expect(Math.abs(metre[i]! - value)).toBeLessThan(0.01);
    });
  });

  it('answers nothing to nothing, and the same to an odd number of steps, but near their end', () => {
    const none = new Float32Array(0);
    expect(runNet({ steps: 0, rate: 25, bands: none, tones: none }).heads).toHaveLength(0);
    const odd = {
      ...input,
      steps: steps - 1,
      bands: input.bands.slice(0, -2 * BANDS),
      tones: input.tones.slice(0, -TONES),
    };
    expect(runNet(odd).heads).toHaveLength(6 * (steps - 1));
    expect(runNet(odd).heads.every(Number.isFinite)).toBe(true);
  });

  it('hears the beats of a plain song where they are', () => {
    const sections = [{ chords: ['0', '5', '7', '0'], bars: 16, like: 'A', level: 1 }];
    const truth = synth({ bpm: 104, beats: 4, subdivision: 2, sections });
    const { beat, rate } = netCurves(framesOf(truth.samples, () => {}).net);
    const peaks = [...beat.keys()]
      .filter((i) => beat[i]! > 0 && beat[i]! >= crestAt(beat, rate, i / rate))
      .map((i) => i / rate);
    expect(eventF(truth.beats, peaks, 0.05)).toBeGreaterThan(0.8);
  });
});

describe('rows times weights', () => {
  it('is the plain sum of products', () => {
    const rows = Float64Array.from({ length: 3 * 5 }, (_, i) => Math.sin(i));
    const bias = Float64Array.of(1, 2, 3, 4, 5);
    const a = Float64Array.from({ length: 8 }, (_, i) => Math.cos(i));
    const out = new Float64Array(16);
    multiply(a, 1, 3, 2, layerOf(3, 5, rows, bias), out);
    for (let r = 0; r < 2; r++) {
      for (let o = 0; o < 5; o++) {
        let sum = bias[o]!;
        for (let i = 0; i < 3; i++) sum += a[1 + 3 * r + i]! * rows[5 * i + o]!;
        expect(out[8 * r + o]).toBeCloseTo(sum, 12);
      }
    }
  });
});
