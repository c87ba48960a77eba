import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compileEdit } from '../../../lib/core/edit/compile.ts';
import { crossfadeGains, likeness } from '../../../lib/core/edit/crossfade.ts';
import { type Edit, wholeSong } from '../../../lib/core/edit/edit.ts';
import { floorScore } from '../../../lib/core/edit/floorScore.ts';
import { practiceMix } from '../../../lib/core/edit/practiceMix.ts';
import { djFile, type Rendering, render, renderRange, type Stretch } from '../../../lib/core/edit/render.ts';
import type { Samples } from '../../../lib/core/signal/samples.ts';
import { asSound, collected } from '../../../lib/core/signal/sound.ts';
import { floorTime, recordTime, wholeMicros } from '../../../lib/core/units.ts';
import { anyEdit, cut, fade } from './edits.ts';
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
const rendered = (samples: Samples, edit: Edit, how: Rendering = {}): Float32Array => {
  const done = render(samples, edit, how);
  if (!done.ok) throw new Error(done.problem.sentence);
  return done.value.channels[0]!;
};
/** Stands in for a library: the nearest sample, its pitch not kept. What is tested here is where things lie. */
const nearest: Stretch = (sound, length) => {
  const [whole] = collected(sound).channels;
  const at = (i: number) => whole![Math.min(whole!.length - 1, Math.round((i * whole!.length) / length))]!;
  return asSound({ rate: sound.rate, channels: [Float32Array.from({ length }, (_, i) => at(i))] });
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

  it('refuses another speed with a word where nothing is given to stretch it', () => {
    const slower = { ...wholeSong, speed: 0.95 };
    const range = renderRange(ones(12), slower, floorTime(1), floorTime(2));
    for (const made of [render(ones(12), slower), djFile(ones(12), slower), range]) {
      expect(made).toMatchObject({ ok: false, problem: { code: 'speed' } });
    }
  });

  it('the DJ’s file is the same and a silent second; of nothing there is none', () => {
    const edit = { ...wholeSong, cuts: [cut(3, 5.5)], end: fade(7, 2) };
    const made = djFile(ramp(12), edit);
    if (!made.ok) throw new Error(made.problem.sentence);
    const whole = collected(made.value).channels[0]!;
    const plain = rendered(ramp(12), edit);
    expect(whole).toHaveLength(plain.length + RATE);
    expect(whole.subarray(0, plain.length)).toEqual(plain);
    expect(whole.subarray(plain.length).every((x) => x === 0)).toBe(true);
    expect(djFile(ramp(12), { ...wholeSong, cuts: [cut(0, 20)] }).ok).toBe(false);
  });

  it('tells how far it is, to the end', () => {
    const shares: number[] = [];
    rendered(ramp(12), wholeSong, { report: (share) => shares.push(share) });
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.at(-1)).toBe(1);
    expect(shares.length).toBeGreaterThan(1);
  });

  // 12 s stand for the 300 s of the arbitrary edits.
  const anyShortEdit = anyEdit.map((edit): Edit => {
    const short = (time: number) => recordTime(wholeMicros(time / 25));
    return {
      ...edit,
      start: short(edit.start),
      cuts: edit.cuts.map(({ from, to }) => ({ from: short(from), to: short(to), crossfade: 0 })),
      end: edit.end.kind === 'fade' ? { ...edit.end, from: short(edit.end.from) } : edit.end,
    };
  });

  it('any edit is as long as its floor length, to the nearest sample', () => {
    fc.assert(
      fc.property(anyShortEdit, (edit) => {
        const { length } = compileEdit(edit, { duration: 12 });
        const out = rendered(ramp(12), edit, { stretch: nearest });
        expect(Math.abs(out.length - length * RATE)).toBeLessThanOrEqual(0.5 + 1e-6);
      }),
    );
  });

  it('any edit plays at each moment what its compiled map says, to a sample and a half', () => {
    fc.assert(
      fc.property(anyShortEdit, (given) => {
        const edit: Edit = { ...given, end: { kind: 'own' } };
        const compiled = compileEdit(edit, { duration: 12 });
        const out = rendered(ramp(12), edit, { stretch: nearest });
        for (let n = 50; n < out.length - 2; n += 997) {
          // At a join the samples about it belong to either side.
          if (compiled.spans.some(({ floor }) => Math.abs(floor * RATE - n) < 2)) continue;
          const record = compiled.toRecord(floorTime(n / RATE)) * RATE;
          expect(Math.abs(out[n]! * 2 ** 20 - record)).toBeLessThanOrEqual(1.5 + 0.5);
        }
      }),
    );
  });

  it('any fade only falls, from what it finds to nothing at the end of the file', () => {
    const any = fc.record({
      from: fc.integer({ min: 0, max: 11_000_000 }),
      length: fc.integer({ min: 100_000, max: 60_000_000 }),
      shape: fc.constantFrom('linear' as const, 'soft' as const),
      speed: fc.constantFrom(1, 0.9, 1.1),
    });
    fc.assert(
      fc.property(any, ({ from, length, shape, speed }) => {
        const end = { ...fade(from / 1e6, length / 1e6), shape };
        const out = rendered(ones(12), { ...wholeSong, end, speed } as Edit, { stretch: nearest });
        const begins = Math.round(((from / 1e6) * RATE) / speed);
        expect(out.subarray(0, begins).every((x) => x === 1)).toBe(true);
        expect(out.every((x, n) => n <= begins || x < out[n - 1]!)).toBe(true);
        // One step more and the gain would be 0.
        expect(out.at(-1)!).toBeCloseTo((1 / (out.length - begins)) ** (shape === 'soft' ? 2 : 1), 6);
      }),
      { numRuns: 20 },
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
    const x = collected(made.value.sound).channels[0]!;
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
    for (const v of collected(made.value.sound).channels[0]!) expect(Math.abs(v)).toBeLessThanOrEqual(1);
  });
});
