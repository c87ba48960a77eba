import { median } from '../signal/statistics.ts';

/** An interval this many times the usual one is a stop, across which bars are not counted on. */
const STOP = 2.5;

/**
 * Indices of beats that come after a stop.
 * @param waits beats after which the counts wait, seconds, whatever the interval
 */
export function stopsOf(beats: readonly number[], waits: readonly number[] = []): Set<number> {
  const usual = median(beats.slice(1).map((t, i) => t - beats[i]!));
  const waiting = new Set(waits);
  return new Set(
    range(1, beats.length).filter(
      (i) => beats[i]! - beats[i - 1]! > STOP * usual || waiting.has(beats[i - 1]!),
    ),
  );
}

/** Runs of beats without a stop, as [from, to). */
export function stretchesOf(beats: readonly number[], waits: readonly number[] = []): [number, number][] {
  const starts = [0, ...stopsOf(beats, waits)];
  return beats.length === 0
    ? []
    : starts.map((from, n): [number, number] => [from, starts[n + 1] ?? beats.length]);
}

/** The stretch that holds a beat. */
export const stretchAround = (
  beats: readonly number[],
  at: number,
  waits: readonly number[] = [],
): [number, number] => stretchesOf(beats, waits).find(([from, to]) => at >= from && at < to)!;

/** from, from + 1 ... to - 1. */
export const range = (from: number, to: number): number[] =>
  Array.from({ length: Math.max(0, to - from) }, (_, n) => from + n);

/** Index of the nearest of ascending times; the earlier of two as near. */
export function nearest(times: readonly number[], at: number): number {
  let [low, high] = [0, times.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (times[middle]! < at) low = middle;
    else high = middle;
  }
  return high > low && times[high]! - at < at - times[low]! ? high : Math.max(0, low);
}

/**
 * Every n-th of the indices from `from` to `to`, counted anew from each of the marks (ascending, in that range), and backwards
 * before the first; all marks are among them.
 */
export function everyNth(from: number, to: number, n: number, marks: readonly number[]): number[] {
  const first = marks[0] ?? from;
  const out = range(from, first).filter((i) => (first - i) % n === 0);
  for (const [m, mark] of (marks.length > 0 ? marks : [from]).entries()) {
    for (let i = mark; i < (marks[m + 1] ?? to); i += n) out.push(i);
  }
  return out;
}
