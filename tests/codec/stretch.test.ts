import { describe, expect, it } from 'vitest';
import { loadStretch } from '../../lib/codec/stretch.ts';
import { compileEdit } from '../../lib/core/edit/compile.ts';
import { type Edit, wholeSong } from '../../lib/core/edit/edit.ts';
import { render, renderRange } from '../../lib/core/edit/render.ts';
import type { Samples } from '../../lib/core/signal/samples.ts';
import { floorTime, recordTime } from '../../lib/core/units.ts';
import { cut, fade } from '../core/edit/edits.ts';

const RATE = 22_050;
const SECONDS = 16;
const speeds = [0.9, 0.95, 1.03, 1.1];
const stereo = (of: (i: number) => number): Samples => {
  const channel = Float32Array.from({ length: SECONDS * RATE }, (_, i) => of(i));
  return { rate: RATE, channels: [channel, channel.slice()] };
};
const HERTZ = 440;
const sine = stereo((i) => 0.5 * Math.sin((2 * Math.PI * HERTZ * i) / RATE));

/** A click every half second: 10 ms of a tone that dies away. */
const clickTimes = Array.from({ length: 2 * SECONDS - 2 }, (_, k) => 0.5 + k / 2);
const clicks = stereo((i) => {
  const since = (i / RATE) % 0.5;
  const inside = i / RATE >= 0.5 && i / RATE < SECONDS - 0.5 && since < 0.01;
  return inside ? 0.8 * Math.sin(2 * Math.PI * 2000 * since) * (1 - since / 0.01) : 0;
});

async function played(samples: Samples, edit: Edit): Promise<Float32Array> {
  const made = render(samples, edit, { stretch: await loadStretch() });
  if (!made.ok) throw new Error(made.problem.sentence);
  expect(made.value.channels).toHaveLength(2);
  return made.value.channels[0]!;
}

/** Sample within reach of `at` at which the sound is loudest. */
function loudest(x: Float32Array, at: number, reach: number): number {
  let best = Math.max(0, at - reach);
  for (let i = best; i < Math.min(x.length, at + reach); i++)
    if (Math.abs(x[i]!) > Math.abs(x[best]!)) best = i;
  return best;
}

/** Hertz, from the crossings of zero in a stretch. */
function pitch(x: Float32Array): number {
  const crossings: number[] = [];
  for (let i = 1; i < x.length; i++) {
    if (x[i - 1]! < 0 && x[i]! >= 0) crossings.push(i - x[i]! / (x[i]! - x[i - 1]!));
  }
  return ((crossings.length - 1) * RATE) / (crossings.at(-1)! - crossings[0]!);
}

describe('music at another speed', () => {
  it.each(speeds)(
    '%d: clicks lie where the edit says, within 10 ms, and it is to the sample as long',
    async (speed) => {
      const edit: Edit = { ...wholeSong, speed, start: recordTime(0.25), cuts: [cut(6.25, 9.25)] };
      const compiled = compileEdit(edit, { duration: SECONDS });
      const x = await played(clicks, edit);
      expect(x).toHaveLength(Math.round(compiled.length * RATE));
      // The tone is loudest an eighth of a millisecond after it begins.
      for (const time of clickTimes) {
        const floor = compiled.toFloor(recordTime(time));
        if (floor === null) continue;
        const found = loudest(x, Math.round(floor * RATE), Math.round(0.1 * RATE));
        expect(Math.abs(found / RATE - floor)).toBeLessThan(0.01);
        expect(Math.abs(x[found]!)).toBeGreaterThan(0.2);
      }
    },
  );

  it.each(speeds)('%d: a tone keeps its pitch within 5 cents, and its level', async (speed) => {
    const x = await played(sine, { ...wholeSong, speed });
    const middle = x.subarray(2 * RATE, x.length - 2 * RATE);
    expect(Math.abs(1200 * Math.log2(pitch(middle) / HERTZ))).toBeLessThan(5);
    expect(middle.reduce((most, v) => Math.max(most, Math.abs(v)), 0)).toBeCloseTo(0.5, 1);
  });

  it('is the same bits each time', async () => {
    const edit = { ...wholeSong, speed: 0.95 };
    expect(await played(clicks, edit)).toEqual(await played(clicks, edit));
  });

  it('fades in the time of the floor, after it is stretched: 0 at the end of the file', async () => {
    const edit: Edit = { ...wholeSong, speed: 0.9, start: recordTime(1), end: fade(9, 4) };
    const x = await played(sine, edit);
    expect(x).toHaveLength(Math.round((12 / 0.9) * RATE));
    expect(x[0]).toBe(0);
    const level = (at: number) =>
      x.subarray(at * RATE, (at + 0.05) * RATE).reduce((most, v) => Math.max(most, Math.abs(v)), 0);
    expect(level(8 / 0.9 - 0.1)).toBeCloseTo(0.5, 1);
    // Half way down the linear fade: -6.02 dB (arithmetic).
    expect(level(10 / 0.9)).toBeCloseTo(0.25, 1);
    expect(Math.abs(x.at(-1)!)).toBeLessThan(1e-4);
  });

  it('an excerpt lies where it lies in the whole', async () => {
    const edit = { ...wholeSong, speed: 0.95 };
    const part = renderRange(clicks, edit, floorTime(4), floorTime(8), await loadStretch());
    if (!part.ok) throw new Error(part.problem.sentence);
    const x = part.value.channels[0]!;
    expect(x).toHaveLength(4 * RATE);
    for (const time of [4.5, 5, 5.5, 6, 6.5, 7]) {
      const at = Math.round((time / 0.95 - 4) * RATE);
      if (at > RATE / 5 && at < x.length - RATE / 5) {
        expect(Math.abs(loudest(x, at, RATE / 10) - at) / RATE).toBeLessThan(0.01);
      }
    }
  });

  it('one stretch serves one rendering', async () => {
    const stretch = await loadStretch();
    const edit = { ...wholeSong, speed: 0.95 };
    render(clicks, edit, { stretch });
    expect(() => render(clicks, edit, { stretch })).toThrow();
  });
});
