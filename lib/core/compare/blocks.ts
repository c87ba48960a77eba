import { FRAME } from './imprint.ts';
import { differing, likenessAt, likenessOf } from './words.ts';

/** Frames that are looked for together, and from one such block to the next: 8 s and 2 s. */
export const BLOCK = Math.round(8 / FRAME);
export const HOP = Math.round(2 / FRAME);
/** A block of which less than this share sounds is left out. */
const SOUNDING = 0.5;
/** Below this likeness a place may be chance. */
const CHANCE = 0.3;
/** Offsets kept for the whole copy, and places for each block besides: a chorus sounds alike several times. */
const OFFSETS = 12;
const PLACES = 3;

/** Where in the recording a block of the copy may come from. */
export interface BlockPlace {
  /** Frames, with fractions, by which the copy shows it later than the recording. */
  offset: number;
  likeness: number;
}

export interface Block {
  /** Frame of the copy at which it begins. */
  at: number;
  places: BlockPlace[];
}

/**
 * For each block of the copy the places in the recording where it may come from: the offsets that most of the copy agrees
 * on, and its own likeliest. A short copy is one block.
 */
export function blocksOf(recording: Uint32Array, copy: Uint32Array): Block[] {
  const length = Math.min(BLOCK, copy.length, recording.length);
  const curveAt = curvesOf(recording, copy, length);
  const found: { at: number; curve: Float32Array }[] = [];
  const votes = new Float64Array(recording.length + copy.length);
  for (let at = 0; at + length <= copy.length && length > 0; at += HOP) {
    if (!sounds(copy, at, length)) continue;
    const curve = curveAt(at);
    for (let place = 0; place < curve.length; place++) {
      votes[recording.length + at - place]! += Math.max(0, curve[place]! - CHANCE);
    }
    found.push({ at, curve });
  }
  const offsets = peaksOf(votes, OFFSETS).map((i) => i - recording.length);
  return found.map(({ at, curve }) => {
    const places = new Set([...offsets.map((offset) => at - offset), ...peaksOf(curve, PLACES)]);
    return { at, places: [...places].map((place) => refined(recording, copy, at, place, length)) };
  });
}

export function sounds(words: Uint32Array, at: number, length: number): boolean {
  let sounding = 0;
  for (let i = at; i < at + length; i++) if (words[i] !== 0) sounding++;
  return sounding > SOUNDING * length;
}

/**
 * Likeness of the block that begins at a frame of the copy, at every place of the recording. Blocks overlap: the frames from one to
 * the next are compared once and serve every block that has them.
 */
function curvesOf(recording: Uint32Array, copy: Uint32Array, length: number): (at: number) => Float32Array {
  const parts = length / HOP;
  if (!Number.isInteger(parts)) return (at) => likenesses(recording, copy, at, length);
  const known = new Map<number, Uint16Array>();
  const partAt = (at: number): Uint16Array => {
    const part = known.get(at) ?? partOf(recording, copy, at);
    known.set(at, part);
    return part;
  };
  return (at) => {
    const differ = new Uint16Array(Math.max(0, recording.length - length + 1));
    for (let k = 0; k < parts; k++) addAt(differ, partAt(at + k * HOP), k * HOP);
    return Float32Array.from(differ, (bits) => likenessOf(bits, length, length));
  };
}

/** Bits that HOP frames of the copy differ by, at every place of the recording. */
function partOf(recording: Uint32Array, copy: Uint32Array, at: number): Uint16Array {
  const bits = new Uint16Array(recording.length - HOP + 1);
  for (let place = 0; place < bits.length; place++)
    bits[place] = differing(copy, at, recording, place, HOP, 1);
  return bits;
}

function addAt(sums: Uint16Array, values: Uint16Array, from: number): void {
  for (let i = 0; i < sums.length; i++) sums[i]! += values[from + i]!;
}

/** Likeness of a block at every place of the recording, from every frame of it or every `step`-th. */
export function likenesses(
  recording: Uint32Array,
  copy: Uint32Array,
  at: number,
  length: number,
  step = 1,
): Float32Array {
  const curve = new Float32Array(Math.max(0, recording.length - length + 1));
  for (let place = 0; place < curve.length; place++) {
    curve[place] = likenessAt(copy, at, recording, place, length, step);
  }
  return curve;
}

/** Indices of the highest values, none within three of a higher one. */
function peaksOf(values: ArrayLike<number>, most: number): number[] {
  const tops: number[] = [];
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (value > 0 && value >= (values[i - 1] ?? 0) && value >= (values[i + 1] ?? 0)) tops.push(i);
  }
  tops.sort((a, b) => values[b]! - values[a]!);
  const found: number[] = [];
  for (const i of tops) {
    if (found.every((other) => Math.abs(other - i) > 3)) found.push(i);
    if (found.length === most) break;
  }
  return found;
}

/**
 * The best of a place and its two neighbours, set between the frames: on either side of the true place the likeness falls in
 * a straight line, so the top is where the two lines of equal slope meet.
 */
export function refined(
  recording: Uint32Array,
  copy: Uint32Array,
  at: number,
  place: number,
  length: number,
): BlockPlace {
  const value = (by: number) => likenessAt(copy, at, recording, place + by, length);
  const around = [-2, -1, 0, 1, 2].map(value);
  let best = 1;
  for (const i of [2, 3]) if (around[i]! > around[best]!) best = i;
  const [before, peak, after] = [around[best - 1]!, around[best]!, around[best + 1]!];
  const slope = peak - Math.min(before, after);
  const lean = slope > 0 ? Math.max(-0.5, Math.min(0.5, (after - before) / 2 / slope)) : 0;
  return { offset: at - (place + best - 2 + lean), likeness: peak };
}
