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
  const inside = Math.max(0, last - first);
  const bits = step * differing(a, from + first, b, there + first, Math.ceil(inside / step), step);
  return likenessOf(bits, inside, length);
}

/** The same of the `bits` in which those of `length` frames differ that lie `inside` both. */
export function likenessOf(bits: number, inside: number, length: number): number {
  return length === 0 ? 0 : (inside - (2 * bits) / BITS) / length;
}

/**
 * Bits in which `n` words of two lists differ. Eight words at a time are added up by carries, bit by bit, so that only their
 * eights need counting (Harley and Seal's method).
 */
export function differing(
  a: Uint32Array,
  i: number,
  b: Uint32Array,
  k: number,
  n: number,
  step: number,
): number {
  let [one, two, four, eights] = [0, 0, 0, 0];
  let left = n;
  for (; left >= 8; left -= 8, i += 8 * step, k += 8 * step) {
    const w0 = a[i]! ^ b[k]!;
    const w1 = a[i + step]! ^ b[k + step]!;
    const w2 = a[i + 2 * step]! ^ b[k + 2 * step]!;
    const w3 = a[i + 3 * step]! ^ b[k + 3 * step]!;
    const w4 = a[i + 4 * step]! ^ b[k + 4 * step]!;
    const w5 = a[i + 5 * step]! ^ b[k + 5 * step]!;
    const w6 = a[i + 6 * step]! ^ b[k + 6 * step]!;
    const w7 = a[i + 7 * step]! ^ b[k + 7 * step]!;
    const two0 = carry(one, w0, w1);
    const one0 = one ^ w0 ^ w1;
    const two1 = carry(one0, w2, w3);
    const one1 = one0 ^ w2 ^ w3;
    const two2 = carry(one1, w4, w5);
    const one2 = one1 ^ w4 ^ w5;
    const two3 = carry(one2, w6, w7);
    one = one2 ^ w6 ^ w7;
    const fourA = carry(two, two0, two1);
    const twoA = two ^ two0 ^ two1;
    const fourB = carry(twoA, two2, two3);
    two = twoA ^ two2 ^ two3;
    eights += ones(carry(four, fourA, fourB));
    four ^= fourA ^ fourB;
  }
  let differ = 8 * eights + 4 * ones(four) + 2 * ones(two) + ones(one);
  for (; left > 0; left--, i += step, k += step) differ += ones(a[i]! ^ b[k]!);
  return differ;
}

/** The carry of adding three bits, for each of 32. */
const carry = (x: number, y: number, z: number): number => (x & y) | ((x ^ y) & z);

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
  const thirds = tuned ? thirdsOf(ratio) : 0;
  const source = finer?.[TUNINGS + thirds] ?? words;
  const step = finer ? 2 : 1;
  if (ratio === 1 && !finer) return words;
  const out = new Uint32Array(Math.floor(words.length / ratio));
  for (let i = 0; i < out.length; i++) out[i] = source[Math.round(step * (i + phase) * ratio)] ?? 0;
  return out;
}

/** Thirds of a band by which the pitch moves that goes with a speed. */
export const thirdsOf = (ratio: number): number => Math.round((-3 * Math.log(ratio)) / Math.log(BAND_STEP));
