import { FRAME } from './imprint.ts';
import { likenessAt } from './words.ts';

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
  const found: { at: number; curve: Float32Array }[] = [];
  const votes = new Float64Array(recording.length + copy.length);
  for (let at = 0; at + length <= copy.length && length > 0; at += HOP) {
    if (!sounds(copy, at, length)) continue;
    const curve = likenesses(recording, copy, at, length);
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
