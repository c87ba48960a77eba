import { mean, quantile } from '../signal/statistics.ts';
import type { Frames } from './frames.ts';

/** Slices of a bar whose harmony is told apart. */
const SLICES = 6;
const HARMONY = SLICES * 24;
/** A bass line walks, and is played otherwise the second time: how much it counts beside the chords. */
const BASS = 0.4;
/** Slices of a bar in which strokes are counted, low and high: twos, threes and fours all fall on them. */
const STROKES = 12;
const RHYTHM = 2 * STROKES;

/** What each bar sounds like: harmony per sixth of the bar, rhythm per twelfth, and timbre with level over the whole of it. */
export interface BarView {
  count: number;
  /** HARMONY values a bar, each bar of length 1: per slice 12 pitch classes and 12 of the bass. */
  harmony: Float64Array;
  /** RHYTHM values a bar: strength of low and of high onsets, square root. */
  rhythm: Float64Array;
  /** Seven values a bar in usual deviations over the song, none beyond FARTHEST: six bands' level and their mean. */
  timbre: Float64Array;
  /** dB against the song's own level, a bar. */
  level: Float64Array;
}

const TIMBRE = 7;
/** A last chord that dies away, or a bar of silence, must not make all other differences look small. */
const FARTHEST = 2.5;
/** The middle three fifths of a normal distribution are this many deviations wide. */
const MIDDLE = 1.683;
/** Nepers of power, 1.3 dB: where bars differ by less, the difference says little. */
const ALIKE = 0.3;

/** @param edges starts of the bars and the end of the last: one more than there are bars */
export function barsView(frames: Frames, edges: readonly number[]): BarView {
  const count = edges.length - 1;
  const harmony = new Float64Array(HARMONY * count);
  const rhythm = new Float64Array(RHYTHM * count);
  const timbre = new Float64Array(TIMBRE * count);
  const level = new Float64Array(count);
  const view = { count, harmony, rhythm, timbre, level };
  for (let bar = 0; bar < count; bar++) addBar(view, frames, bar, edges[bar]!, edges[bar + 1]!);
  for (let d = 0; d < TIMBRE; d++) toDeviations(timbre, d, count);
  return view;
}

function addBar(view: BarView, frames: Frames, bar: number, from: number, to: number): void {
  const { harmony, rhythm, timbre, level } = view;
  const length = to - from;
  for (let q = 0; q < SLICES; q++) {
    const at = HARMONY * bar + 24 * q;
    const slice: [number, number] = [from + (length * q) / SLICES, from + (length * (q + 1)) / SLICES];
    addMean(frames.chroma, 12, frames.toneRate, slice, harmony.subarray(at, at + 12));
    addMean(frames.bass, 12, frames.toneRate, slice, harmony.subarray(at + 12, at + 24));
    toLength(1, harmony.subarray(at, at + 12));
    toLength(BASS, harmony.subarray(at + 12, at + 24));
  }
  toLength(1, harmony.subarray(HARMONY * bar, HARMONY * (bar + 1)));
  addStrokes(frames, from, length, rhythm.subarray(RHYTHM * bar, RHYTHM * (bar + 1)));
  const bands = new Float64Array(6);
  addMean(frames.bands, 6, frames.toneRate, [from, to], bands);
  level[bar] = (10 / Math.LN10) * Math.log(bands.reduce((sum, b) => sum + Math.exp(b), 0));
  for (let b = 0; b < 6; b++) timbre[TIMBRE * bar + b] = bands[b]!;
  timbre[TIMBRE * bar + 6] = mean(bands);
}

/** A column of the timbre in usual deviations from its middle. */
function toDeviations(timbre: Float64Array, d: number, count: number): void {
  const column = Float64Array.from({ length: count }, (_, bar) => timbre[TIMBRE * bar + d]!);
  const middle = quantile(column, 0.5);
  const spread = (quantile(column, 0.8) - quantile(column, 0.2)) / MIDDLE + ALIKE;
  for (let bar = 0; bar < count; bar++) {
    const off = (column[bar]! - middle) / spread;
    timbre[TIMBRE * bar + d] = Math.max(-FARTHEST, Math.min(FARTHEST, off));
  }
}

function addMean(
  rows: Float32Array,
  width: number,
  rate: number,
  [from, to]: [number, number],
  out: Float64Array,
): void {
  const last = rows.length / width - 1;
  const first = Math.min(last, Math.max(0, Math.round(from * rate)));
  const end = Math.min(last, Math.max(first, Math.round(to * rate) - 1));
  for (let i = first; i <= end; i++) {
    for (let c = 0; c < width; c++) out[c]! += rows[width * i + c]! / (end - first + 1);
  }
}

/** Onsets of a bar, each in the slice it is nearest to. */
function addStrokes(frames: Frames, from: number, length: number, out: Float64Array): void {
  const { low, high, onsetRate } = frames;
  const slice = length / STROKES;
  for (let q = 0; q < STROKES; q++) {
    const first = Math.max(0, Math.round((from + slice * (q - 0.5)) * onsetRate));
    const end = Math.round((from + slice * (q + 0.5)) * onsetRate);
    let [kick, snare] = [0, 0];
    for (let i = first; i < end; i++) {
      kick = Math.max(kick, low[i] ?? 0);
      snare = Math.max(snare, high[i] ?? 0);
    }
    out[q] = Math.sqrt(kick);
    out[STROKES + q] = Math.sqrt(snare);
  }
}

function toLength(length: number, vector: Float64Array): void {
  let sum = 1e-12;
  for (const x of vector) sum += x * x;
  const scale = length / Math.sqrt(sum);
  for (let i = 0; i < vector.length; i++) vector[i]! *= scale;
}

/** Likeness of the harmony of two bars, 0 to 1, the second turned down by `steps` semitones, 0 to 11. */
export function harmonyLikeness(view: BarView, a: number, b: number, steps = 0): number {
  const { harmony } = view;
  let sum = 0;
  for (let at = 0; at < HARMONY; at += 12) {
    const [x, y] = [HARMONY * a + at, HARMONY * b + at];
    for (let c = 0; c < 12; c++) {
      const turned = c + steps < 12 ? c + steps : c + steps - 12;
      sum += harmony[x + c]! * harmony[y + turned]!;
    }
  }
  return sum;
}

/** Bars [from, to). */
export type Bars = readonly [from: number, to: number];

/** Distance of the timbre of two stretches of bars [from, to), in deviations a value. */
export function timbreDistance(view: BarView, a: Bars, b: Bars): number {
  return distance(view.timbre, TIMBRE, a, b);
}

/** Distance of the rhythm of two stretches of bars [from, to). */
export function rhythmDistance(view: BarView, a: Bars, b: Bars): number {
  return distance(view.rhythm, RHYTHM, a, b);
}

/** Between the means of two stretches of rows, root mean square a value. */
function distance(rows: Float64Array, width: number, a: Bars, b: Bars): number {
  let sum = 0;
  for (let d = 0; d < width; d++) {
    let [x, y] = [0, 0];
    for (let bar = a[0]; bar < a[1]; bar++) x += rows[width * bar + d]! / (a[1] - a[0]);
    for (let bar = b[0]; bar < b[1]; bar++) y += rows[width * bar + d]! / (b[1] - b[0]);
    sum += (x - y) ** 2;
  }
  return Math.sqrt(sum / width);
}

/** How far the bars of a stretch of up to `longest` lie from its mean timbre, summed over the bars: root of the summed variance times the bars. */
export function unevenness(view: BarView, longest: number): (from: number, to: number) => number {
  const width = longest + 1;
  const out = new Float64Array(view.count * width);
  for (let from = 0; from < view.count; from++) {
    const sum = new Float64Array(TIMBRE);
    const square = new Float64Array(TIMBRE);
    for (let to = from + 1; to <= Math.min(view.count, from + longest); to++) {
      const bars = to - from;
      let variance = 0;
      for (let d = 0; d < TIMBRE; d++) {
        const x = view.timbre[TIMBRE * (to - 1) + d]!;
        sum[d]! += x;
        square[d]! += x * x;
        variance += Math.max(0, square[d]! / bars - (sum[d]! / bars) ** 2);
      }
      out[width * from + bars] = bars * Math.sqrt(variance / TIMBRE);
    }
  }
  return (from, to) => out[width * from + to - from]!;
}
