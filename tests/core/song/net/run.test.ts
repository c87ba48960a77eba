import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { framesOf } from '../../../../lib/core/song/frames.ts';
import { eventF } from '../../../../lib/core/song/metrics.ts';
import { crestAt, netCurves } from '../../../../lib/core/song/net/curves.ts';
import { BANDS, TONES } from '../../../../lib/core/song/net/input.ts';
import { layerOf, Room } from '../../../../lib/core/song/net/multiply.ts';
import { runNet } from '../../../../lib/core/song/net/run.ts';
import { vectorModule } from '../../../../lib/core/song/net/simd.ts';
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

/** Numbers between -1 and 1, the same at each run (Numerical Recipes' linear congruential generator). */
function numbers(count: number, seed: number): Float64Array {
  let state = seed;
  return Float64Array.from({ length: count }, () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 31 - 1;
  });
}

describe('rows times weights', () => {
  /** Rows, step, stretches, numbers of a stretch, from stretch to stretch, outputs: rows apart, overlapping, dilated. */
  const shapes = [
    [4, 3, 1, 3, 0, 5],
    [60, 1, 3, 3, 62, 10],
    [16, 10, 1, 50, 0, 15],
    [64, 40, 5, 40, 5120, 80],
  ] as const;

  it.each([true, false])('is the plain sum of products (vectors: %s)', (fast) => {
    if (fast) expect(vectorModule()).toBeDefined();
    shapes.forEach(([rows, step, taps, length, apart, outputs], seed) => {
      const room = new Room(fast);
      const inputs = taps * length;
      const a = numbers(1 + step * rows + apart * taps + length, seed);
      const weights = numbers(inputs * outputs, seed + 10);
      const bias = numbers(outputs, seed + 20);
      const at = room.take(a.length);
      const layer = room.place(layerOf(inputs, outputs, weights, bias));
      const out = room.take(layer.width * rows);
      room.floats.set(a, at);
      room.multiply(at + 1, step, rows, taps, apart, layer, out);
      for (let r = 0; r < rows; r++) {
        for (let o = 0; o < outputs; o++) {
          let sum = bias[o]!;
          for (let i = 0; i < inputs; i++)
            sum +=
              a[1 + step * r + apart * Math.floor(i / length) + (i % length)]! * weights[outputs * i + o]!;
          // Some 200 sums of single precision, 2^-24 each.
          expect(Math.abs(room.floats[out + layer.width * r + o]! - sum)).toBeLessThan(3e-5);
        }
      }
    });
  });

  it.each([true, false])('finds the largest of several rows, or nothing (vectors: %s)', (fast) => {
    const room = new Room(fast);
    const rows = numbers(3 * 5 * 12, 7);
    const at = room.take(rows.length);
    const out = room.take(5 * 10 + 12);
    room.floats.set(rows, at);
    room.pool(at, { width: 12, group: 3, count: 5, kept: 10 }, out);
    for (let n = 0; n < 5; n++) {
      for (let c = 0; c < 10; c++) {
        const most = Math.max(0, ...[0, 1, 2].map((g) => rows[12 * (3 * n + g) + c]!));
        expect(room.floats[out + 10 * n + c]).toBe(Math.fround(most));
      }
    }
  });

  it('makes the same net of vectors as of plain sums', () => {
    const random = {
      ...{ steps: 301, rate: 25 },
      bands: Float32Array.from(numbers(2 * BANDS * 301, 1), (x) => 2 + 2 * x),
      tones: Float32Array.from(numbers(TONES * 301, 2), (x) => 2 + 2 * x),
    };
    const [fast, plain] = [true, false].map((vectors) => runNet(random, () => {}, new Room(vectors)));
    fast!.heads.forEach((value, i) => {
      expect(Math.abs(value - plain!.heads[i]!)).toBeLessThan(1e-3);
    });
    fast!.metre.forEach((value, i) => {
      expect(Math.abs(value - plain!.metre[i]!)).toBeLessThan(1e-3);
    });
  });
});
