import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compileEdit } from '../../../lib/core/edit/compile.ts';
import { crossfadeGains, likeness } from '../../../lib/core/edit/crossfade.ts';
import { type Edit, wholeSong } from '../../../lib/core/edit/edit.ts';
import { floorScore } from '../../../lib/core/edit/floorScore.ts';
import { practiceMix } from '../../../lib/core/edit/practiceMix.ts';
import { render, renderRange } from '../../../lib/core/edit/render.ts';
import type { Samples } from '../../../lib/core/signal/samples.ts';
import { floorTime, recordTime } from '../../../lib/core/units.ts';
import { cut, fade } from './edits.ts';
import { evenGrid } from './songs.ts';

const RATE = 8000;
/** A sound whose samples tell their place. */
const ramp = (seconds: number): Samples => ({
  rate: RATE,
  channels: [Float32Array.from({ length: seconds * RATE }, (_, i) => i / 2 ** 20)],
});
const ones = (seconds: number, rate = RATE): Samples => ({
  rate,
  channels: [new Float32Array(seconds * rate).fill(1)],
});
const rendered = (samples: Samples, edit: Edit): Float32Array => {
  const done = render(samples, edit);
  if (!done.ok) throw new Error(done.problem.sentence);
  return done.value.channels[0]!;
};
const dB = (gain: number) => 20 * Math.log10(gain);

describe('render', () => {
  it('the whole song is the same bits', () => {
    expect(rendered(ramp(12), wholeSong)).toEqual(ramp(12).channels[0]);
  });

  it('a cut keeps every sample in its place', () => {
    const edit = { ...wholeSong, cuts: [{ ...cut(3, 5.5), crossfade: 0 }] };
    const out = rendered(ramp(10), edit);
    expect(out).toHaveLength(7.5 * RATE);
    expect(out[3 * RATE - 1]! * 2 ** 20).toBe(3 * RATE - 1);
    expect(out[3 * RATE]! * 2 ** 20).toBe(5.5 * RATE);
  });

  it('a crossfade changes no length and lies wholly before the seam', () => {
    const edit = { ...wholeSong, cuts: [{ ...cut(3, 5.5), crossfade: 0.03 }] };
    const plain = rendered(ramp(10), { ...edit, cuts: [{ ...edit.cuts[0]!, crossfade: 0 }] });
    const out = rendered(ramp(10), edit);
    expect(out).toHaveLength(plain.length);
    const differs = [...out.keys()].filter((i) => out[i] !== plain[i]);
    expect(differs.at(0)).toBeGreaterThanOrEqual(3 * RATE - 0.03 * RATE);
    expect(differs.at(-1)).toBe(3 * RATE - 1);
  });

  it('a crossfade of a sound with itself is that sound', () => {
    const edit = { ...wholeSong, cuts: [{ ...cut(3, 5.5), crossfade: 0.03 }] };
    for (const x of rendered(ones(10), edit)) expect(x).toBeCloseTo(1, 6);
  });

  // Worked example 6 (arithmetic): 8 s linear fade to silence at 3:00 starts at 2:52 and is at -6.02 dB at 2:56.
  it('the linear fade of 8 s', () => {
    const out = rendered(ones(200, 1000), { ...wholeSong, end: fade(172, 8) });
    expect(out).toHaveLength(180_000);
    expect(out[171_999]).toBe(1);
    expect(dB(out[176_000]!)).toBeCloseTo(-6.02, 2);
    expect(out.at(-1)).toBeCloseTo(1 / 8000, 6);
  });

  it('the soft one falls twice as many dB, and both only fall', () => {
    const soft = { ...fade(172, 8), shape: 'soft' } as const;
    const out = rendered(ones(200, 1000), { ...wholeSong, end: soft });
    expect(dB(out[176_000]!)).toBeCloseTo(-12.04, 2);
    for (let i = 172_001; i < out.length; i++) expect(out[i]!).toBeLessThan(out[i - 1]!);
  });

  it('a fade that the recording is too short for still ends in silence', () => {
    const out = rendered(ones(12), { ...wholeSong, end: fade(10, 8) });
    expect(out).toHaveLength(12 * RATE);
    expect(out.at(-1)!).toBeLessThan(0.001);
  });

  it('begins softly in 5 ms where it begins inside the recording, and only there', () => {
    const out = rendered(ones(12), { ...wholeSong, start: recordTime(2) });
    expect([out[0], out[20], out[40]]).toEqual([0, 0.5, 1]);
    expect(rendered(ones(12), wholeSong)[0]).toBe(1);
  });

  it('refuses another speed with a word', () => {
    expect(render(ones(12), { ...wholeSong, speed: 0.95 })).toMatchObject({
      ok: false,
      problem: { code: 'speed' },
    });
  });

  it('its length is that of the compiled edit, to the sample', () => {
    const time = fc.integer({ min: 0, max: 11e6 }).map((n) => n / 1e6);
    fc.assert(
      fc.property(fc.uniqueArray(time, { minLength: 3, maxLength: 3 }), (times) => {
        const [start, from, to] = times.sort((a, b) => a - b) as [number, number, number];
        const edit = { ...wholeSong, start: recordTime(start), cuts: [cut(from, to)] };
        const { spans } = compileEdit(edit, { duration: 12 });
        const whole = (t: number) => Math.round(t * RATE);
        const expected = spans.reduce((sum, s) => sum + whole(s.to) - whole(s.from), 0);
        expect(rendered(ramp(12), edit)).toHaveLength(expected);
      }),
      { numRuns: 30 },
    );
  });

  it('a range is the same bits as that range of the whole', () => {
    const edit = {
      ...wholeSong,
      start: recordTime(0.5),
      cuts: [{ ...cut(3, 5.5), crossfade: 0.03 }],
      end: fade(7, 2),
    };
    const whole = rendered(ramp(12), edit);
    const time = fc.double({ min: -1, max: 9, noNaN: true });
    fc.assert(
      fc.property(time, time, (a, b) => {
        const part = renderRange(ramp(12), edit, floorTime(Math.min(a, b)), floorTime(Math.max(a, b)));
        const at = Math.max(0, Math.min(whole.length, Math.round(Math.min(a, b) * RATE)));
        if (!part.ok) throw new Error(part.problem.sentence);
        const x = part.value.channels[0]!;
        expect(x).toEqual(whole.slice(at, at + x.length));
      }),
      { numRuns: 40 },
    );
  });
});

describe('crossfade', () => {
  // Arithmetic: equal power is -3.01 dB each at the middle, equal gain -6.02 dB.
  it('laws', () => {
    expect(dB(crossfadeGains(0.5, 0).out)).toBeCloseTo(-3.01, 2);
    expect(dB(crossfadeGains(0.5, 1).in)).toBeCloseTo(-6.02, 2);
    expect(crossfadeGains(0, 0.3)).toEqual({ out: 1, in: 0 });
    expect(crossfadeGains(1, 0.3)).toEqual({ out: 0, in: 1 });
  });

  it('keeps the power of any two sounds of that correlation', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(share, share, (t, correlation) => {
        const { out, in: into } = crossfadeGains(t, correlation);
        expect(out ** 2 + into ** 2 + 2 * correlation * out * into).toBeCloseTo(1, 9);
      }),
    );
  });

  it('likeness', () => {
    const tone = (hertz: number, phase = 0) =>
      Float32Array.from({ length: 800 }, (_, i) => Math.sin((2 * Math.PI * hertz * i) / RATE + phase));
    const pair = (a: Float32Array, b: Float32Array) => {
      const channel = new Float32Array(1600);
      channel.set(a);
      channel.set(b, 800);
      return likeness({ rate: RATE, channels: [channel] }, 800, 1600, 800);
    };
    expect(pair(tone(100), tone(100))).toBeCloseTo(1, 6);
    expect(pair(tone(100), tone(300))).toBeCloseTo(0, 6);
    expect(pair(tone(100), tone(100, Math.PI))).toBe(0);
    expect(pair(tone(100), new Float32Array(800))).toBe(0);
  });
});

describe('practice mix', () => {
  const song = {
    grid: evenGrid(120, 4, 4),
    sections: [],
    phraseBars: 8,
    duration: 8,
    lastSound: 8,
  };
  it('counts a bar in and clicks every count, the first of the bar higher', () => {
    const silence = { rate: RATE, channels: [new Float32Array(8 * RATE)] };
    const made = practiceMix(silence, wholeSong, floorScore(song, wholeSong));
    if (!made.ok) throw new Error(made.problem.sentence);
    expect(made.value.lead).toBe(2);
    const x = made.value.samples.channels[0]!;
    expect(x).toHaveLength(10 * RATE);
    const turns = (count: number) => {
      let n = 0;
      for (let i = 1; i < 200; i++) {
        if (x[count * 4000 + i]! > 0 !== x[count * 4000 + i - 1]! > 0) n++;
      }
      return n;
    };
    const clicks = Array.from({ length: 20 }, (_, i) => turns(i));
    expect(new Set(clicks.filter((_, i) => i % 4 === 0)).size).toBe(1);
    expect(clicks[0]!).toBeGreaterThan(clicks[1]!);
    expect(Math.min(...clicks)).toBeGreaterThan(20);
    expect(x.slice(1000, 3990).every((v) => v === 0)).toBe(true);
  });
  it('never leaves full scale', () => {
    const made = practiceMix(ones(8), wholeSong, floorScore(song, wholeSong));
    if (!made.ok) throw new Error(made.problem.sentence);
    for (const v of made.value.samples.channels[0]!) expect(Math.abs(v)).toBeLessThanOrEqual(1);
  });
});
