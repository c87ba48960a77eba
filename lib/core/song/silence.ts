/** Blocks over which the level is taken, seconds. */
const BLOCK = 0.01;
/** Sound begins and ends this far below the loudest block, or at ABSOLUTE where that is higher. dB. */
const BELOW_LOUDEST = 60;
const ABSOLUTE = -75;

/** Seconds at which sound is first and last heard; undefined of a silent recording. */
export function soundEdges(mono: Float32Array, rate: number): { first: number; last: number } | undefined {
  const size = Math.max(1, Math.round(BLOCK * rate));
  const levels: number[] = [];
  for (let from = 0; from < mono.length; from += size) {
    const to = Math.min(mono.length, from + size);
    let sum = 0;
    for (let i = from; i < to; i++) sum += mono[i]! * mono[i]!;
    levels.push(10 * Math.log10(sum / (to - from) + 1e-15));
  }
  let loudest = Number.NEGATIVE_INFINITY;
  for (const level of levels) loudest = Math.max(loudest, level);
  const threshold = Math.max(ABSOLUTE, loudest - BELOW_LOUDEST);
  if (loudest <= ABSOLUTE) return undefined;
  const first = levels.findIndex((level) => level > threshold);
  const last = levels.findLastIndex((level) => level > threshold);
  return { first: (first * size) / rate, last: Math.min(mono.length, (last + 1) * size) / rate };
}
