import type { RecordTime } from '../units.ts';
import type { FloorCount, FloorScore } from './score.ts';

/**
 * The floor count that a stored position means: the nearest within half an interval, of two equally near the earlier;
 * null where the edit removed it.
 */
export function nearestCount(score: FloorScore, at: RecordTime): FloorCount | null {
  const { counts } = score;
  const after = firstAtOrAfter(counts, at);
  const candidates = [after - 1, after].filter((i) => counts[i] !== undefined);
  let best: FloorCount | null = null;
  for (const i of candidates) {
    const distance = Math.abs(counts[i]!.record - at);
    if (distance > intervalAt(score, i) / 2 + 1e-6) continue;
    if (!best || distance < Math.abs(best.record - at) - 1e-6) best = counts[i]!;
  }
  return best;
}

function firstAtOrAfter(counts: readonly FloorCount[], at: RecordTime): number {
  let low = 0;
  let high = counts.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (counts[middle]!.record < at) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Seconds of record time to the nearer neighbour: across a seam the farther one says nothing. */
function intervalAt({ counts, interval }: FloorScore, i: number): number {
  const { record } = counts[i]!;
  const back = i > 0 ? record - counts[i - 1]!.record : Number.POSITIVE_INFINITY;
  const on = i + 1 < counts.length ? counts[i + 1]!.record - record : Number.POSITIVE_INFINITY;
  const nearer = Math.min(back, on);
  return Number.isFinite(nearer) ? nearer : interval;
}
