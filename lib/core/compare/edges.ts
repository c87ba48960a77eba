import { BITS } from './imprint.ts';
import { ones } from './words.ts';

/** Bits in which a frame of neither side is taken to differ: between none and half of them. */
const NEITHER = 0.3 * BITS;

/** Frames of the copy where one offset ends and the next begins; equal where the copy goes on without a break. */
export interface Edge {
  ends: number;
  begins: number;
}

/**
 * The edge, to a frame, within a stretch of the copy: before `ends` the copy is nearest to the recording at the first offset,
 * from `begins` on at the second. Null for an offset means that nothing is known on that side.
 */
export function edgeWithin(
  recording: Uint32Array,
  copy: Uint32Array,
  [low, high]: readonly [number, number],
  first: number | null,
  second: number | null,
): Edge {
  const from = Math.max(0, low);
  const to = Math.max(from, Math.min(copy.length, high));
  const a = gains(recording, copy, from, to, first);
  const b = gains(recording, copy, from, to, second);
  let rest = b.reduce((sum, x) => sum + x, 0);
  let prefix = 0;
  let longest = { ends: 0, sum: 0 };
  let best = { ends: 0, begins: 0, score: Number.NEGATIVE_INFINITY };
  for (let i = 0; i <= a.length; i++) {
    if (prefix > longest.sum) longest = { ends: i, sum: prefix };
    const score = longest.sum + rest;
    if (score > best.score) best = { ends: longest.ends, begins: i, score };
    prefix += a[i] ?? 0;
    rest -= b[i] ?? 0;
  }
  // Where nothing follows, the first side simply ends; where nothing was before, the second simply begins.
  if (second === null) return { ends: from + longest.ends, begins: from + longest.ends };
  return { ends: from + best.ends, begins: from + best.begins };
}

/** For each frame how many bits nearer it is to the recording at that offset than a frame of neither side would be. */
function gains(
  recording: Uint32Array,
  copy: Uint32Array,
  from: number,
  to: number,
  offset: number | null,
): Float64Array {
  const out = new Float64Array(to - from);
  if (offset === null) return out;
  const shift = Math.round(offset);
  for (let i = 0; i < out.length; i++) {
    const there = recording[from + i - shift];
    out[i] = there === undefined ? -NEITHER : NEITHER - ones(copy[from + i]! ^ there);
  }
  return out;
}
