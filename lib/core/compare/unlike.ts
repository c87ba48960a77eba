import { BITS } from './imprint.ts';

/**
 * Likeness (1 the same, 0 chance) over a sliding window of `2 * half` frames, one value for each frame, the window about it; shorter at
 * the two ends.
 * @param differ bits of 32 in which each frame differs
 */
export function slidingLikeness(differ: ArrayLike<number>, half: number): Float64Array {
  const sums = new Float64Array(differ.length + 1);
  for (let i = 0; i < differ.length; i++) sums[i + 1] = sums[i]! + differ[i]!;
  return Float64Array.from({ length: differ.length }, (_, i) => {
    const [from, to] = [Math.max(0, i - half), Math.min(differ.length, i + half)];
    return 1 - (2 * (sums[to]! - sums[from]!)) / (BITS * (to - from));
  });
}

/**
 * Stretches, first frame and the one after the last, in which the likeness stays below a limit. Half a window may be alike in between:
 * that may be chance.
 */
export function stretchesBelow(likeness: ArrayLike<number>, limit: number, half: number): [number, number][] {
  const found: [number, number][] = [];
  for (let i = 0; i < likeness.length; i++) {
    if (likeness[i]! >= limit) continue;
    const last = found.at(-1);
    if (last && i - last[1] <= half) last[1] = i + 1;
    else found.push([i, i + 1]);
  }
  return found;
}

/**
 * A stretch that a sliding window found, with its edges to the frame: up to a window farther out, from where frames are nearer to chance
 * than to the usual likeness.
 */
export function sharpened(
  differ: ArrayLike<number>,
  [from, to]: readonly [number, number],
  half: number,
  usual: number,
): [number, number] {
  const between = (BITS / 2) * (1 - usual / 2);
  const middle = Math.floor((from + to) / 2);
  const reach = (side: 1 | -1, until: number) => {
    let [sum, most, best] = [0, 0, middle];
    for (let i = side > 0 ? middle : middle - 1; i !== until && i >= 0 && i < differ.length; i += side) {
      sum += differ[i]! - between;
      if (sum > most) [most, best] = [sum, side > 0 ? i + 1 : i];
    }
    return best;
  };
  return [reach(-1, from - 2 * half - 1), reach(1, to + 2 * half)];
}
