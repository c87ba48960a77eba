import { BANDS, type NetInput, TONES } from './input.ts';
import { type Layer, layerOf, multiply, widthOf } from './multiply.ts';
import { NET } from './weights.generated.ts';

/**
 * A small learned ear: convolutions over two spectra, then dilated ones with gates and skips over 25 steps a second (van den Oord et al.
 * 2016; of beats Davies and Böck 2019). Trained by tests/ear on rendered music; `tests/ear/net.py` is the same in a framework.
 */

/** Beats in the first and second half of a step, bar starts likewise, a section's start, a beat in three parts. */
const HEADS = 6;
/** Beats a bar and parts of a beat, in the order of the last layer's outputs. */
export const METRES = ['2/2', '3/2', '4/2', '2/3', '3/3', '4/3'] as const;
/** Steps that are worked on at a time, so that what is between two layers stays near the processor. Even. */
const CHUNK = 64;

/** What the net answers, as log odds. */
export interface NetAnswer {
  steps: number;
  /** HEADS values a step. */
  heads: Float32Array;
  /** Of METRES, up to a constant. */
  metre: Float32Array;
}

interface Net {
  level: Float64Array;
  toneLevel: Float64Array;
  band1: Layer;
  band2: Layer;
  join: Layer;
  tone1: Layer;
  tone2: Layer;
  mix: Layer;
  wide: Layer[];
  out: Layer[];
  head: Layer;
  metre: Layer;
}

const POOLED = BANDS / 3;
const PLACES = (POOLED - 4) / 4;

let ready: Net | undefined;

/** Read once, when a song is first listened to. */
function net(): Net {
  if (ready) return ready;
  const numbers = halves(NET.numbers);
  const { channels, layers, taps } = NET;
  const [first, second] = [channels / 4, Math.floor((3 * channels) / 8)];
  let at = 0;
  const take = (n: number): Float64Array => {
    at += n;
    return numbers.subarray(at - n, at);
  };
  const layer = (inputs: number, outputs: number): Layer => {
    const rows = take(inputs * outputs);
    return layerOf(inputs, outputs, rows, take(outputs));
  };
  const level = take(2 * BANDS);
  const toneLevel = take(2 * TONES);
  const [band1, band2] = [layer(9, first), layer(5 * first, second)];
  const join = layer(4 * PLACES * second, channels);
  const [tone1, tone2, mix] = [layer(15, 8), layer(96, 24), layer(channels + 24, channels)];
  const wide: Layer[] = [];
  const out: Layer[] = [];
  for (let i = 0; i < layers; i++) {
    wide.push(layer(taps * channels, 2 * channels));
    out.push(layer(channels, channels));
  }
  const [head, metre] = [layer(channels, HEADS), layer(channels, METRES.length)];
  if (at !== numbers.length) throw new Error(`the net's file holds ${numbers.length} numbers, not ${at}`);
  ready = { level, toneLevel, band1, band2, join, tone1, tone2, mix, wide, out, head, metre };
  return ready;
}

/** Base64 of IEEE 754 half-precision numbers. */
function halves(text: string): Float64Array {
  const bytes = atob(text);
  return Float64Array.from({ length: bytes.length / 2 }, (_, i) => {
    const bits = bytes.charCodeAt(2 * i) | (bytes.charCodeAt(2 * i + 1) << 8);
    const [sign, power, part] = [bits >> 15 ? -1 : 1, (bits >> 10) & 31, bits & 1023];
    return sign * (power === 0 ? part * 2 ** -24 : (1 + part / 1024) * 2 ** (power - 15));
  });
}

/** @param report called with the share done, 0 to 1 */
export function runNet(input: NetInput, report: (share: number) => void = () => {}): NetAnswer {
  const it = net();
  const { channels } = NET;
  const { steps } = input;
  let x = fromBands(it, input, mixedTones(it, input));
  report(0.35);
  const skip = new Float64Array(x.length);
  it.wide.forEach((wide, i) => {
    x = gated(x, skip, wide, it.out[i]!, 2 ** i, steps);
    report(0.35 + (0.6 * (i + 1)) / it.wide.length);
  });
  for (let i = 0; i < skip.length; i++) if (skip[i]! < 0) skip[i] = 0;
  const width = widthOf(it.head);
  const answer = new Float64Array(width * even(steps));
  multiply(skip, 0, channels, even(steps), it.head, answer);
  const heads = new Float32Array(HEADS * steps);
  for (let s = 0; s < steps; s++)
    for (let h = 0; h < HEADS; h++) heads[HEADS * s + h] = answer[width * s + h]!;
  const mean = new Float64Array(2 * channels);
  for (let s = 0; s < steps; s++)
    for (let c = 0; c < channels; c++) mean[c]! += skip[channels * s + c]! / steps;
  const metre = new Float64Array(2 * widthOf(it.metre));
  multiply(mean, 0, channels, 2, it.metre, metre);
  return { steps, heads, metre: Float32Array.from(metre.subarray(0, METRES.length)) };
}

/** Rows are multiplied in pairs. */
const even = (n: number): number => n + (n & 1);

/** The tones' part of each step: 24 values. */
function mixedTones({ toneLevel, tone1, tone2 }: Net, { steps, tones }: NetInput): Float64Array {
  const out = new Float64Array(24 * even(steps));
  const width = TONES + 2;
  // Two steps of silence to either side, and a place beside the lowest and the highest.
  const level = new Float64Array((steps + 5) * width);
  for (let s = 0; s < steps; s++) {
    for (let b = 0; b < TONES; b++) {
      level[(s + 2) * width + b + 1] = tones[TONES * s + b]! * toneLevel[b]! + toneLevel[TONES + b]!;
    }
  }
  const rows = new Float64Array(2 * TONES * 15);
  const first = new Float64Array(2 * TONES * 8);
  const pooled = new Float64Array(2 * 96);
  const second = new Float64Array(2 * 24);
  for (let s = 0; s < steps; s += 2) {
    for (let r = 0, at = 0; r < 2; r++) {
      for (let b = 0; b < TONES; b++) {
        for (let dt = 0; dt < 5; dt++) {
          const from = (s + r + dt) * width + b;
          for (let df = 0; df < 3; df++) rows[at++] = level[from + df] ?? 0;
        }
      }
    }
    multiply(rows, 0, 15, 2 * TONES, tone1, first);
    pool(first, 8, 4, 2 * 12, 8, pooled);
    multiply(pooled, 0, 96, 2, tone2, second);
    for (let i = 0; i < 48; i++) out[24 * s + i] = Math.max(0, second[i]!);
  }
  return out;
}

/** Rectified, the largest of each `group` rows of `width` values, of which `kept` are written one after the other. */
function pool(
  rows: Float64Array,
  width: number,
  group: number,
  count: number,
  kept: number,
  out: Float64Array,
): void {
  for (let n = 0; n < count; n++) {
    for (let c = 0; c < kept; c++) {
      let most = 0;
      for (let g = 0, at = n * group * width + c; g < group; g++, at += width)
        if (rows[at]! > most) most = rows[at]!;
      out[n * kept + c] = most;
    }
  }
}

/** Both spectra of each step, mixed to as many values as there are channels. */
function fromBands(
  { level, band1, band2, join, mix }: Net,
  { steps, bands }: NetInput,
  tones: Float64Array,
): Float64Array {
  const { channels } = NET;
  const [first, second] = [band1.outputs, band2.outputs];
  const frames = 2 * steps;
  const width = BANDS + 2;
  const x = new Float64Array(channels * even(steps));
  const levels = new Float64Array((2 * CHUNK + 4) * width);
  const rows = new Float64Array(BANDS * 9);
  const one = new Float64Array(BANDS * widthOf(band1));
  const pooled = new Float64Array(POOLED * first);
  const two = new Float64Array(4 * PLACES * widthOf(band2));
  const row = PLACES * second;
  const joined = new Float64Array((2 * CHUNK + 2) * row);
  const both = new Float64Array(CHUNK * (channels + 24));
  const part = new Float64Array(CHUNK * widthOf(join));
  for (let from = 0; from < steps; from += CHUNK) {
    // A frame more to either side for `join`, and one more for `band1`; beyond the song is silence.
    for (let n = 0; n < 2 * CHUNK + 4; n++) {
      const frame = 2 * from - 2 + n;
      const inside = frame >= 0 && frame < frames;
      for (let b = 0; b < BANDS; b++)
        levels[n * width + b + 1] = inside ? bands[BANDS * frame + b]! * level[b]! + level[BANDS + b]! : 0;
    }
    for (let n = 0; n < 2 * CHUNK + 2; n++) {
      const frame = 2 * from - 1 + n;
      if (frame < 0 || frame >= frames) {
        joined.fill(0, n * row, (n + 1) * row);
        continue;
      }
      for (let b = 0, at = 0; b < BANDS; b++) {
        for (let dt = 0, place = n * width + b; dt < 3; dt++, place += width) {
          rows[at++] = levels[place]!;
          rows[at++] = levels[place + 1]!;
          rows[at++] = levels[place + 2]!;
        }
      }
      multiply(rows, 0, 9, BANDS, band1, one);
      pool(one, widthOf(band1), 3, POOLED, first, pooled);
      multiply(pooled, 0, first, 4 * PLACES, band2, two);
      pool(two, widthOf(band2), 4, PLACES, second, joined.subarray(n * row, (n + 1) * row));
    }
    multiply(joined, 0, 2 * row, CHUNK, join, part);
    const count = Math.min(CHUNK, even(steps) - from);
    for (let n = 0; n < count; n++) {
      const at = n * (channels + 24);
      for (let c = 0; c < channels; c++) both[at + c] = Math.max(0, part[channels * n + c]!);
      for (let c = 0; c < 24; c++) both[at + channels + c] = tones[24 * (from + n) + c]!;
    }
    multiply(both, 0, channels + 24, count, mix, part);
    for (let i = 0; i < count * channels; i++) x[from * channels + i] = Math.max(0, part[i]!);
  }
  x.fill(0, steps * channels);
  return x;
}

/** One dilated layer: adds what it lets through to `skip`, and gives the next layer's input. */
function gated(
  x: Float64Array,
  skip: Float64Array,
  wide: Layer,
  out: Layer,
  dilation: number,
  steps: number,
): Float64Array {
  const { channels, taps } = NET;
  const next = x.slice();
  const rows = new Float64Array(CHUNK * taps * channels);
  const gates = new Float64Array(CHUNK * 2 * channels);
  const open = new Float64Array(CHUNK * channels);
  const part = new Float64Array(CHUNK * channels);
  for (let from = 0; from < steps; from += CHUNK) {
    const count = Math.min(CHUNK, even(steps) - from);
    for (let n = 0, at = 0; n < count; n++) {
      for (let k = 0; k < taps; k++, at += channels) {
        const place = from + n + (k - (taps >> 1)) * dilation;
        if (place < 0 || place >= steps) rows.fill(0, at, at + channels);
        else for (let c = 0, p = place * channels; c < channels; c++) rows[at + c] = x[p + c]!;
      }
    }
    multiply(rows, 0, taps * channels, count, wide, gates);
    for (let n = 0; n < count; n++) {
      for (let c = 0, at = 2 * channels * n; c < channels; c++) {
        const a = gates[at + c]!;
        open[channels * n + c] = a > 0 ? a / (1 + Math.exp(-gates[at + channels + c]!)) : 0;
      }
    }
    multiply(open, 0, channels, count, out, part);
    const end = Math.min(count, steps - from) * channels;
    for (let i = 0, at = from * channels; i < end; i++, at++) {
      skip[at]! += part[i]!;
      next[at]! += part[i]!;
    }
  }
  return next;
}
