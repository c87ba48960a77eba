import { BAND_STEP, BITS, type Imprint, TUNINGS } from './imprint.ts';

/** Bits set in a word. */
export function ones(word: number): number {
  let x = word - ((word >>> 1) & 0x55555555);
  x = (x & 0x33333333) + ((x >>> 2) & 0x33333333);
  return Math.imul((x + (x >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}

/**
 * How alike `length` frames of two imprints are, from places that may reach outside either: 1 the same, 0 chance, and less
 * for the opposite. Frames outside count as unlike.
 * @param step reads only every so manieth frame
 */
export function likenessAt(
  a: Uint32Array,
  from: number,
  b: Uint32Array,
  there: number,
  length: number,
  step = 1,
): number {
  const first = Math.max(0, -from, -there);
  const last = Math.min(length, a.length - from, b.length - there);
  let differ = 0;
  for (let i = first; i < last; i += step) differ += step * ones(a[from + i]! ^ b[there + i]!);
  const inside = Math.max(0, last - first);
  return length === 0 ? 0 : (inside - (2 * differ) / BITS) / length;
}

/** How a copy is read: its speed, whether its pitch went with it, and by which share of a frame later. */
export interface Reading {
  ratio: number;
  tuned: boolean;
  phase: 0 | 0.5;
}

/**
 * Frames of the recording's clock by which the `length` words that `read` gives from `at` on were taken too late on average: each
 * is the nearest of those that there are.
 */
export function readLate({ finer }: Imprint, { ratio, phase }: Reading, at: number, length: number): number {
  const step = finer ? 2 : 1;
  let late = 0;
  for (let i = at; i < at + length; i++) {
    const wanted = step * (i + phase) * ratio;
    late += (Math.round(wanted) - wanted) / (step * ratio);
  }
  return length > 0 ? late / length : 0;
}

/** The words as if the music were played `ratio` times as fast: frame i stands for i + phase frames of that clock. */
export function read({ words, finer }: Imprint, { ratio, tuned, phase }: Reading): Uint32Array {
  const thirds = tuned ? Math.round((-3 * Math.log(ratio)) / Math.log(BAND_STEP)) : 0;
  const source = finer?.[TUNINGS + thirds] ?? words;
  const step = finer ? 2 : 1;
  if (ratio === 1 && !finer) return words;
  return Uint32Array.from(
    { length: Math.floor(words.length / ratio) },
    (_, i) => source[Math.round(step * (i + phase) * ratio)] ?? 0,
  );
}
