import type { Frames } from './frames.ts';
import { PARTS, type Ruler, type Scene } from './pulseView.ts';

/** What is compared with itself: all onsets, low and high ones, pitch classes, and those of the bass. */
export const STRANDS = ['rhythm', 'low', 'high', 'chords', 'bass'] as const;
/** Beats on, at most, that the music is compared with itself. */
export const LONGEST_ON = 32;

/** How like itself the music is n beats on, n from 0 to LONGEST_ON: about 1 where every bar is the same, 0 by chance. */
export type Likeness = Record<(typeof STRANDS)[number], Float64Array>;

export function likenessAlong(frames: Frames, sums: Scene['sums'], ruler: Ruler): Likeness {
  return {
    rhythm: recurrence(thinned(ruler.onset), PARTS / 2),
    low: recurrence(thinned(ruler.low), PARTS / 2),
    high: recurrence(thinned(ruler.high), PARTS / 2),
    chords: recurrence(pitchesOf(sums.chroma, frames.toneRate, ruler.beats), 12),
    bass: recurrence(pitchesOf(sums.bass, frames.toneRate, ruler.beats), 12),
  };
}

/** Every second value: halves and thirds of the beats, without the quarters. */
const thinned = (values: Float64Array): Float64Array =>
  Float64Array.from({ length: values.length / 2 }, (_, i) => values[2 * i]!);

/** One row a beat: the pitch classes heard in it, of length 1. */
function pitchesOf(sums: Float64Array, rate: number, beats: readonly number[]): Float64Array {
  const rows = new Float64Array(Math.max(0, beats.length - 1) * 12);
  const last = sums.length / 12 - 1;
  const place = (t: number): number => 12 * Math.min(last, Math.max(0, Math.round(t * rate)));
  for (let i = 0; i + 1 < beats.length; i++) {
    const [from, to] = [place(beats[i]!), place(beats[i + 1]!)];
    let square = 1e-12;
    for (let c = 0; c < 12; c++) {
      const x = sums[to + c]! - sums[from + c]!;
      rows[i * 12 + c] = x;
      square += x * x;
    }
    for (let c = 0; c < 12; c++) rows[i * 12 + c]! /= Math.sqrt(square);
  }
  return rows;
}

/** Correlation of the rows with the rows n on, each column's mean taken off first. */
function recurrence(rows: Float64Array, width: number): Float64Array {
  const count = rows.length / width;
  for (let c = 0; c < width; c++) {
    let mean = 0;
    for (let i = 0; i < count; i++) mean += rows[i * width + c]! / count;
    for (let i = 0; i < count; i++) rows[i * width + c]! -= mean;
  }
  const out = new Float64Array(LONGEST_ON + 1);
  let whole = 1e-9;
  for (let k = 0; k < rows.length; k++) whole += rows[k]! * rows[k]!;
  for (let n = 1; n <= LONGEST_ON && n < count; n++) {
    let sum = 0;
    for (let k = n * width; k < rows.length; k++) sum += rows[k]! * rows[k - n * width]!;
    out[n] = (sum / (count - n)) * (count / whole);
  }
  return out;
}
