import { mean, median } from '../signal/statistics.ts';
import type { RecordTime } from '../units.ts';
import { nearest, range, stopsOf } from './stretches.ts';

/** Fewer taps tell no tempo. */
const LEAST_TAPS = 4;
/** A grid's level agrees with taps when their intervals differ by less than this share. */
const SAME_TEMPO = 0.08;
/** Taps may lie this share of their interval off a beat and still mean it, */
const SAME_PLACE = 0.2;
/** and so many seconds at most: a hand's constant error is some 20 to 50 ms (Repp 2005), and sound may come late by as much. */
const SAME_MOMENT = 0.1;
/** Beats on either side of the first tap whose intervals tell the grid's tempo there. */
const AROUND = 16;
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

/** The pulse's own beats, from the first tap to the last. Seconds. */
export const beatsOf = ({ first, period, taps }: TappedPulse): number[] =>
  range(0, Math.round((taps.at(-1)! - first) / period) + 1).map((n) => first + n * period);

/** A level of a grid at which somebody tapped. */
export interface TappedLevel {
  /** Its finest beats, exact as they were heard. */
  fine: number[];
  /** The taps meet every so many of them. */
  every: number;
  /** The pulse's beats that meet one. Seconds. */
  met: number[];
  /** All taps meet one; else some are where nothing was heard. */
  whole: boolean;
}

/** The level of a grid that agrees with the taps in tempo, and in place as far as it has beats there; undefined where none does. */
export function onGrid(beats: readonly number[], pulse: TappedPulse): TappedLevel | undefined {
  if (beats.length < 4) return undefined;
  const { period } = pulse;
  const at = nearest(beats, pulse.first);
  const around = beats.slice(Math.max(0, at - AROUND), at + AROUND);
  const interval = median(around.slice(1).map((t, i) => t - around[i]!));
  const level = LEVELS.find((n) => Math.abs(interval / n / period - 1) < SAME_TEMPO);
  if (level === undefined) return undefined;
  const parts = Math.max(level, 1);
  const every = level < 1 ? Math.round(1 / level) : 1;
  const stops = stopsOf(beats);
  const fine = beats.flatMap((t, i): number[] => {
    const next = beats[i + 1];
    if (next === undefined || stops.has(i + 1)) return [t];
    return Array.from({ length: parts }, (_, k) => t + (k * (next - t)) / parts);
  });
  const met = beatsOf(pulse).filter((t) => off(fine, t) <= period / 2);
  const meant = Math.min(SAME_PLACE * period, SAME_MOMENT);
  const chains = range(0, every).map((start) => fine.filter((_, i) => i % every === start));
  const near = pulse.taps.filter((t) => off(fine, t) <= period / 2);
  if (near.length > 0 && !chains.some((chain) => median(near.map((t) => off(chain, t))) <= meant)) {
    return undefined;
  }
  return { fine, every, met, whole: near.length === pulse.taps.length };
}

/** Seconds from the nearest of the beats. */
const off = (beats: readonly number[], t: number): number => Math.abs(beats[nearest(beats, t)]! - t);
