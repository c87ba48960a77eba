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
/** The same where the tempo goes up and down within a phrase. */
const SMOOTH_FREELY_OVER = 1;
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
export function smoothed(frames: Frames, tracked: readonly number[], freely = false): number[] {
  const onsets = tracked.map((t) => onsetNear(frames, t));
  const places = tracked.map((t, i) => {
    const onset = onsets[i]!;
    return onset.strength > 0.1 ? onset : { at: t, strength: 0.02 };
  });
  const out = tracked.map((_, i) => lineAt(places, i, freely ? SMOOTH_FREELY_OVER : SMOOTH_OVER) - LATENESS);
  return out.map((t, i) => (i > 0 && t <= out[i - 1]! ? out[i - 1]! + 1e-3 : t));
}

/** Weighted line through the places about beat i, read at i; fitted a second time without those that lie far off it. */
function lineAt(places: { at: number; strength: number }[], i: number, over: number): number {
  const from = Math.max(0, i - over);
  const to = Math.min(places.length - 1, i + over);
  let line = { at: places[i]!.at, step: 0 };
  let tolerance = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 3; round++) {
    let [w, wx, wy, wxx, wxy] = [1e-12, 0, 0, 0, 0];
    for (let j = from; j <= to; j++) {
      const x = j - i;
      const off = places[j]!.at - (line.at + line.step * x);
      const near = (1 - (Math.abs(x) / (over + 1)) ** 3) ** 3;
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

/** An onset so long before or after a beat is its own. Seconds. */
const OWN = { before: 0.03, after: 0.04 };
/** The share of the strongest onset about a beat that is its own, above which the beat is evidence of music. By trial on 48 songs. */
const PLAYED = 0.45;
/** A beat no further below the song's median level is never evidence against music. dB, by trial on the same songs. */
const SOFT = -7;

/**
 * How many of the beats come before the music ends, when softer sounds go on after it that keep no time: up to where the summed evidence
 * is greatest that beats are played (the change point of a cumulative sum, Page 1954). A beat speaks for music by how much of the
 * strongest onset nearer to it than to its neighbours is its own, and how strong that is.
 * @param beats seconds of record time, ascending
 */
export function playedBeats(frames: Frames, beats: readonly number[]): number {
  if (beats.length < 2) return beats.length;
  const strongest = (from: number, to: number): number => {
    const { onset, onsetRate } = frames;
    let most = 0;
    const end = Math.min(onset.length - 1, Math.round(to * onsetRate));
    for (let i = Math.max(0, Math.round(from * onsetRate)); i <= end; i++) most = Math.max(most, onset[i]!);
    return most;
  };
  const ends = [...beats.slice(1), 2 * beats.at(-1)! - beats.at(-2)!];
  const own = beats.map((t) => strongest(t - OWN.before, t + OWN.after));
  const typical = median(own.filter((x) => x > 0));
  const levels = beats.map((t, i) => levelOver(frames, t, ends[i]!));
  const soft = median(levels) + SOFT;
  let [sum, most, count] = [0, Number.NEGATIVE_INFINITY, 0];
  beats.forEach((t, i) => {
    const near = 0.45 * (ends[i]! - t);
    const share = own[i]! / (strongest(t - near, t + near) + 1e-9);
    const evidence = share * Math.min(1, own[i]! / (typical + 1e-9)) - PLAYED;
    sum += levels[i]! > soft ? Math.max(0, evidence) : evidence;
    if (sum < most) return;
    most = sum;
    count = i + 1;
  });
  return count;
}

/** Mean power of all bands over a stretch, dB. */
function levelOver({ bands, toneRate }: Frames, from: number, to: number): number {
  const first = Math.max(0, 6 * Math.round(from * toneRate));
  const end = Math.min(bands.length, 6 * Math.round(to * toneRate));
  let sum = 0;
  for (let i = first; i < end; i++) sum += Math.exp(bands[i]!);
  return 10 * Math.log10((6 * sum) / Math.max(6, end - first) + 1e-9);
}

/** The first place from which at least half of the next eight are heard. */
function firstOfRun(heard: readonly boolean[]): number {
  for (let i = 0; i < heard.length; i++) {
    if (heard[i] && heard.slice(i, i + 8).filter(Boolean).length >= 4) return i;
  }
  return heard.length;
}
