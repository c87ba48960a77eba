import { mean, quantile } from '../signal/statistics.ts';
import type { Frames } from './frames.ts';

/** Slices of a bar whose harmony is told apart. */
const SLICES = 4;
const HARMONY = SLICES * 24;

/** What each bar sounds like: harmony per quarter of the bar, and timbre with level over the whole of it. */
export interface BarView {
  count: number;
  /** HARMONY values a bar, each bar of length 1: four quarters of 12 pitch classes and 12 of the bass. */
  harmony: Float64Array;
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
  const timbre = new Float64Array(TIMBRE * count);
  const level = new Float64Array(count);
  for (let bar = 0; bar < count; bar++) {
    const from = edges[bar]!;
    const length = edges[bar + 1]! - from;
    for (let q = 0; q < SLICES; q++) {
      const at = HARMONY * bar + 24 * q;
      const slice: [number, number] = [from + (length * q) / SLICES, from + (length * (q + 1)) / SLICES];
      addMean(frames.chroma, 12, frames.toneRate, slice, harmony.subarray(at, at + 12));
      addMean(frames.bass, 12, frames.toneRate, slice, harmony.subarray(at + 12, at + 24));
      for (const half of [0, 12]) toUnit(harmony.subarray(at + half, at + half + 12));
    }
    toUnit(harmony.subarray(HARMONY * bar, HARMONY * (bar + 1)));
    const bands = new Float64Array(6);
    addMean(frames.bands, 6, frames.toneRate, [from, edges[bar + 1]!], bands);
    level[bar] = (10 / Math.LN10) * Math.log(bands.reduce((sum, b) => sum + Math.exp(b), 0));
    for (let b = 0; b < 6; b++) timbre[TIMBRE * bar + b] = bands[b]!;
    timbre[TIMBRE * bar + 6] = mean(bands);
  }
  for (let d = 0; d < TIMBRE; d++) {
    const column = Float64Array.from({ length: count }, (_, bar) => timbre[TIMBRE * bar + d]!);
    const middle = quantile(column, 0.5);
    const spread = (quantile(column, 0.8) - quantile(column, 0.2)) / MIDDLE + ALIKE;
    for (let bar = 0; bar < count; bar++) {
      const off = (column[bar]! - middle) / spread;
      timbre[TIMBRE * bar + d] = Math.max(-FARTHEST, Math.min(FARTHEST, off));
    }
  }
  return { count, harmony, timbre, level };
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

function toUnit(vector: Float64Array): void {
  let sum = 1e-12;
  for (const x of vector) sum += x * x;
  const scale = 1 / Math.sqrt(sum);
  for (let i = 0; i < vector.length; i++) vector[i]! *= scale;
}

/** Likeness of the harmony of two bars, 0 to 1, the second turned up by `steps` semitones. */
export function harmonyLikeness(view: BarView, a: number, b: number, steps = 0): number {
  let sum = 0;
  for (let at = 0; at < HARMONY; at += 12) {
    for (let c = 0; c < 12; c++) {
      sum += view.harmony[HARMONY * a + at + c]! * view.harmony[HARMONY * b + at + ((c - steps + 12) % 12)]!;
    }
  }
  return sum;
}

/** Distance of the timbre of two stretches of bars [from, to), in deviations a value. */
export function timbreDistance(view: BarView, a: [number, number], b: [number, number]): number {
  let sum = 0;
  for (let d = 0; d < TIMBRE; d++) {
    let [x, y] = [0, 0];
    for (let bar = a[0]; bar < a[1]; bar++) x += view.timbre[TIMBRE * bar + d]! / (a[1] - a[0]);
    for (let bar = b[0]; bar < b[1]; bar++) y += view.timbre[TIMBRE * bar + d]! / (b[1] - b[0]);
    sum += (x - y) ** 2;
  }
  return Math.sqrt(sum / TIMBRE);
}
