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

/**
 * The words as if the music were played `ratio` times as fast. With `tuned` its pitch goes with it, as a turntable's does, and
 * those words are taken whose bands moved with the pitch.
 */
export function faster({ words, detuned }: Imprint, ratio: number, tuned: boolean): Uint32Array {
  const thirds = tuned ? Math.round((-3 * Math.log(ratio)) / Math.log(BAND_STEP)) : 0;
  const source = detuned?.[TUNINGS + thirds] ?? words;
  if (ratio === 1) return source;
  return Uint32Array.from(
    { length: Math.floor(source.length / ratio) },
    (_, i) => source[Math.round(i * ratio)] ?? 0,
  );
}
