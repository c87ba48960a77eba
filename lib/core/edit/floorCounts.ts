import { type FloorTime, floorTime } from '../units.ts';
import { intervalAround, type RecordCount } from './recordCounts.ts';
import type { CompiledEdit } from './score.ts';

/** A count that the edit keeps. */
export interface KeptCount {
  /** Index into the recording's counts. */
  source: number;
  count: RecordCount;
  floor: FloorTime;
  /** Index of the span it is played in. */
  span: number;
  /** Seconds a count around it, in floor time. */
  interval: number;
}

/** A seam this far from the grid, in seconds, still counts as on it. */
export const ON_THE_GRID = 0.06;

/**
 * The counts that survive the edit. Two closer than half the local interval merge into the one after the seam. A count that
 * lies a hair before the moment at which a span begins was meant to be its first, and is kept; one at the very end of what
 * is played opens something that nobody hears, and is not.
 */
export function keptCounts(counts: readonly RecordCount[], compiled: CompiledEdit): KeptCount[] {
  const times = counts.map((count) => count.record);
  const kept: KeptCount[] = [];
  for (const [source, count] of counts.entries()) {
    const interval = intervalAround(times, source) / compiled.speed;
    const reach = Math.min(ON_THE_GRID, interval / 4);
    const place = placeOf(count, compiled, reach);
    if (!place || place.floor > compiled.length - reach) continue;
    const before = kept.at(-1);
    if (before && before.span !== place.span && place.floor - before.floor < interval / 2) kept.pop();
    kept.push({ source, count, interval, ...place });
  }
  return kept;
}

function placeOf(count: RecordCount, compiled: CompiledEdit, reach: number) {
  const { spans, speed } = compiled;
  const floor = compiled.toFloor(count.record);
  if (floor !== null) return { floor, span: spans.findLastIndex((s) => s.from <= count.record) };
  const span = spans.findIndex((s) => count.record < s.from && count.record >= s.from - reach);
  if (span < 0) return null;
  const { from, floor: begins } = spans[span]!;
  return {
    floor: floorTime(Math.max(0, begins + (count.record - from) / speed)),
    span,
  };
}
