import { mean, median } from '../signal/statistics.ts';
import type { RecordTime } from '../units.ts';

/** Fewer taps tell no tempo. */
const LEAST_TAPS = 4;
/** A grid's level agrees with taps when their intervals differ by less than this share. */
const SAME_TEMPO = 0.08;
/** Taps may lie this share of their interval off a beat and still mean it. */
const SAME_PLACE = 0.2;
/** How many of the taps' beats are one of the grid's, or the other way round. */
const LEVELS = [1, 2, 1 / 2, 3, 1 / 3] as const;

/** An even pulse: where its first beat is, and how long a beat lasts. Seconds. */
export interface TappedPulse {
  first: number;
  period: number;
  taps: readonly number[];
}

/** The line through the taps by least squares; a missed tap counts as two intervals, a double tap as none. */
export function tappedPulse(taps: readonly RecordTime[]): TappedPulse | undefined {
  const sorted = [...taps].sort((a, b) => a - b);
  if (sorted.length < LEAST_TAPS) return undefined;
  const usual = median(sorted.slice(1).map((t, i) => t - sorted[i]!));
  if (usual < 0.1) return undefined;
  const kept = sorted.filter((t, i) => i === 0 || t - sorted[i - 1]! > 0.4 * usual);
  const places = [0];
  for (let i = 1; i < kept.length; i++) {
    places.push(places[i - 1]! + Math.max(1, Math.round((kept[i]! - kept[i - 1]!) / usual)));
  }
  const [x, y] = [mean(places), mean(kept)];
  let xy = 0;
  let xx = 0;
  places.forEach((place, i) => {
    xy += (place - x) * (kept[i]! - y);
    xx += (place - x) ** 2;
  });
  if (xx === 0) return undefined;
  const period = xy / xx;
  return { first: y - period * x, period, taps: kept };
}

/**
 * The level of a grid that agrees with the taps in tempo and place: its finest beats, exact as they were heard, and every how many
 * of them the taps meet. Undefined where none does.
 */
export function onGrid(
  beats: readonly number[],
  pulse: TappedPulse,
): { fine: number[]; every: number } | undefined {
  const around = beats.filter((t) => t > pulse.first - 8 && t < pulse.taps.at(-1)! + 8);
  if (around.length < 4) return undefined;
  const interval = median(around.slice(1).map((t, i) => t - around[i]!));
  const level = LEVELS.find((n) => Math.abs(interval / n / pulse.period - 1) < SAME_TEMPO);
  if (level === undefined) return undefined;
  const parts = Math.max(level, 1);
  const every = level < 1 ? Math.round(1 / level) : 1;
  const fine = beats.flatMap((t, i): number[] => {
    const next = beats[i + 1];
    if (next === undefined || next - t > 2.5 * interval) return [t];
    return Array.from({ length: parts }, (_, k) => t + (k * (next - t)) / parts);
  });
  const chains = Array.from({ length: every }, (_, start) => fine.filter((_, i) => i % every === start));
  const off = Math.min(...chains.map((chain) => offBy(chain, pulse)));
  return off <= SAME_PLACE * pulse.period ? { fine, every } : undefined;
}

/** Median distance of the taps from the nearest of the beats. */
const offBy = (beats: readonly number[], pulse: TappedPulse): number =>
  median(
    pulse.taps.map((t) => beats.reduce((d, b) => Math.min(d, Math.abs(b - t)), Number.POSITIVE_INFINITY)),
  );
