import { median } from '../signal/statistics.ts';
import type { Frames } from './frames.ts';

/**
 * A rise in the onset curve is found this much after the sound begins: about nothing for clicks, 11 ms for sampled instruments;
 * the middle of the two. Seconds.
 */
const LATENESS = 0.005;
/** Onsets this far from a beat may draw it. */
const DRAW = 0.045;
/** Beats to either side that a beat's time is smoothed over: a straight line is fitted through their onsets. */
const SMOOTH_OVER = 6;
/** A beat is heard when its onset reaches this share of the median beat's. */
const HEARD = 0.3;
/** Beats go on through a silence shorter than this, when they are found again where they would be. Seconds. */
const LONGEST_STOP = 6;

/** Where the onset nearest to a moment is, to a fraction of a frame, and how strong. */
function onsetNear(frames: Frames, at: number): { at: number; strength: number } {
  const { onset, onsetRate } = frames;
  const centre = Math.round(at * onsetRate);
  const reach = Math.round(DRAW * onsetRate);
  let best = centre;
  for (let i = centre - reach; i <= centre + reach; i++) if ((onset[i] ?? 0) > (onset[best] ?? 0)) best = i;
  const [a, b, c] = [onset[best - 1] ?? 0, onset[best] ?? 0, onset[best + 1] ?? 0];
  const bend = a - 2 * b + c;
  const shift = bend < 0 ? (a - c) / (2 * bend) : 0;
  return { at: (best + Math.max(-0.5, Math.min(0.5, shift))) / onsetRate, strength: b };
}

/**
 * Tracked beats moved onto a smooth grid: each takes its place on the line through the onsets about it (weighted by strength
 * and nearness), so that no single early or late attack moves a beat. Ascending, seconds of record time.
 */
export function smoothed(frames: Frames, tracked: readonly number[]): number[] {
  const onsets = tracked.map((t) => onsetNear(frames, t));
  const places = tracked.map((t, i) => {
    const onset = onsets[i]!;
    return onset.strength > 0.1 ? onset : { at: t, strength: 0.02 };
  });
  const out = tracked.map((_, i) => lineAt(places, i) - LATENESS);
  return out.map((t, i) => (i > 0 && t <= out[i - 1]! ? out[i - 1]! + 1e-3 : t));
}

/** Weighted line through the places about beat i, read at i; fitted a second time without those that lie far off it. */
function lineAt(places: { at: number; strength: number }[], i: number): number {
  const from = Math.max(0, i - SMOOTH_OVER);
  const to = Math.min(places.length - 1, i + SMOOTH_OVER);
  let line = { at: places[i]!.at, step: 0 };
  let tolerance = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 3; round++) {
    let [w, wx, wy, wxx, wxy] = [1e-12, 0, 0, 0, 0];
    for (let j = from; j <= to; j++) {
      const x = j - i;
      const off = places[j]!.at - (line.at + line.step * x);
      const near = (1 - (Math.abs(x) / (SMOOTH_OVER + 1)) ** 3) ** 3;
      const trust = 1 / (1 + (off / tolerance) ** 2);
      const weight = near * trust * Math.min(3, places[j]!.strength);
      w += weight;
      wx += weight * x;
      wy += weight * places[j]!.at;
      wxx += weight * x * x;
      wxy += weight * x * places[j]!.at;
    }
    const spread = w * wxx - wx * wx;
    if (spread < 1e-9) break;
    const step = (w * wxy - wx * wy) / spread;
    line = { at: (wy - step * wx) / w, step };
    tolerance = 0.012;
  }
  return line.at;
}

/**
 * Which of the beats are really heard: nothing before the first and after the last that has an onset of its own, and nothing
 * through a stop longer than LONGEST_STOP. Where there is no beat, no grid is invented.
 * @returns indices into `beats`, ascending
 */
export function heardBeats(frames: Frames, beats: readonly number[]): number[] {
  const strengths = beats.map((t) => onsetNear(frames, t + LATENESS).strength);
  const typical = median(strengths.filter((s) => s > 0));
  const heard = strengths.map((s) => s >= HEARD * typical && s > 0);
  const first = firstOfRun(heard);
  const last = heard.length - 1 - firstOfRun([...heard].reverse());
  const kept: number[] = [];
  for (let i = first; i <= last; i++) {
    if (heard[i]) {
      kept.push(i);
      continue;
    }
    let end = i;
    while (end <= last && !heard[end]) end++;
    const stop = (beats[Math.min(end, last)] ?? 0) - (beats[i - 1] ?? beats[i]!);
    if (stop <= LONGEST_STOP) for (let j = i; j < end; j++) kept.push(j);
    i = end - 1;
  }
  return kept;
}

/** The first place from which at least half of the next eight are heard. */
function firstOfRun(heard: readonly boolean[]): number {
  for (let i = 0; i < heard.length; i++) {
    if (heard[i] && heard.slice(i, i + 8).filter(Boolean).length >= 4) return i;
  }
  return heard.length;
}
