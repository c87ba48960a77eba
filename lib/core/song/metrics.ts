import { median } from '../signal/statistics.ts';

/**
 * Published measures of how well a song was heard, with the defaults of the reference evaluation library of music information
 * retrieval. All times are seconds of record time, ascending.
 */

const SKIPPED = 5;
const BEAT_WINDOW = 0.07;
const CONTINUITY = 0.175;

/** Beats of the first five seconds are not judged (Davies, Degara and Plumbley 2009). */
const judged = (beats: readonly number[]): number[] => beats.filter((t) => t >= SKIPPED);

/** F-measure of two ascending lists of events, each matched at most once within `window` seconds; 0 where either is empty. */
export function eventF(truth: readonly number[], heard: readonly number[], window: number): number {
  if (truth.length === 0 || heard.length === 0) return 0;
  const hits = matched(truth, heard, window);
  return hits === 0 ? 0 : (2 * hits) / (truth.length + heard.length);
}

/** Most pairs within the window; for sorted lists and one width, taking the earliest possible partner is optimal. */
function matched(truth: readonly number[], heard: readonly number[], window: number): number {
  let hits = 0;
  let j = 0;
  for (const t of truth) {
    while (j < heard.length && heard[j]! < t - window - 1e-9) j++;
    if (j < heard.length && heard[j]! <= t + window + 1e-9) {
      hits++;
      j++;
    }
  }
  return hits;
}

/** F-measure of beats within 70 ms, those before 5 s dropped (Dixon 2007; Davies, Degara and Plumbley 2009). */
export const beatF = (truth: readonly number[], heard: readonly number[]): number =>
  eventF(judged(truth), judged(heard), BEAT_WINDOW);

/** The same of the beats that open a bar. */
export const downbeatF = beatF;

/**
 * Continuity with total counts (Hainsworth 2004; Davies, Degara and Plumbley 2009): the share of beats whose phase and interval
 * are within 17.5 % of the annotated interval. `cmlt` at the annotated level; `amlt` at the best of it, its off-beat, double, and half from the
 * first or second beat.
 */
export function continuity(
  truth: readonly number[],
  heard: readonly number[],
): { cmlt: number; amlt: number } {
  const reference = judged(truth);
  const estimate = judged(heard);
  if (reference.length < 2 || estimate.length < 2) return { cmlt: 0, amlt: 0 };
  const double = reference.flatMap((t, i) => (i === 0 ? [t] : [(reference[i - 1]! + t) / 2, t]));
  const levels = [
    reference,
    double.filter((_, i) => i % 2 === 1),
    double,
    reference.filter((_, i) => i % 2 === 0),
    reference.filter((_, i) => i % 2 === 1),
  ];
  const shares = levels.map((level) => (level.length < 2 ? 0 : continuousShare(level, estimate)));
  return { cmlt: shares[0]!, amlt: Math.max(...shares) };
}

function continuousShare(reference: readonly number[], estimate: readonly number[]): number {
  const used = new Set<number>();
  let hits = 0;
  for (let m = 0; m < estimate.length; m++) {
    const at = nearestIndex(reference, estimate[m]!);
    if (used.has(at)) continue;
    const forward = m === 0 || at === 0;
    const intervalAt = (list: readonly number[], i: number): number =>
      (forward && i + 1 < list.length) || i === 0 ? list[i + 1]! - list[i]! : list[i]! - list[i - 1]!;
    const interval = intervalAt(reference, at);
    const phase = Math.abs(estimate[m]! - reference[at]!) / interval;
    const period = Math.abs(1 - intervalAt(estimate, m) / interval);
    if (phase < CONTINUITY && period < CONTINUITY) {
      used.add(at);
      hits++;
    }
  }
  return hits / Math.max(reference.length, estimate.length);
}

function nearestIndex(list: readonly number[], at: number): number {
  let low = 0;
  let high = list.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (list[middle]! <= at) low = middle;
    else high = middle;
  }
  return Math.abs(list[low]! - at) <= Math.abs(list[high]! - at) ? low : high;
}

/** Beats a minute from the median interval; 0 of fewer than two. */
export const tempoOf = (beats: readonly number[]): number =>
  beats.length < 2 ? 0 : 60 / median(beats.slice(1).map((t, i) => t - beats[i]!));

/** Tempo within 4 % of the annotated one (`tempo1`), or of its double, triple, half or third as well (`tempo2`; Gouyon et al. 2006). */
export function tempoRight(truth: number, heard: number): { tempo1: boolean; tempo2: boolean } {
  const within = (target: number): boolean => Math.abs(heard - target) <= 0.04 * target;
  return { tempo1: within(truth), tempo2: [1, 2, 3, 1 / 2, 1 / 3].some((level) => within(truth * level)) };
}

interface Stretch {
  start: number;
  end: number;
}

/** F-measure of all starts and ends of sections within `window` seconds, the outermost included (Turnbull et al. 2007). */
export function boundaryF(truth: readonly Stretch[], heard: readonly Stretch[], window: number): number {
  return eventF(edges(truth), edges(heard), window);
}

function edges(stretches: readonly Stretch[]): number[] {
  const times = stretches.flatMap((s) => [s.start, s.end]).sort((a, b) => a - b);
  return times.filter((t, i) => i === 0 || t - times[i - 1]! > 1e-3);
}

/** Both metres are the same: beats a bar and parts of a beat. */
export const metreOk = (
  truth: { beats: number; subdivision: number },
  heard: { beats: number; subdivision: number },
): boolean => truth.beats === heard.beats && truth.subdivision === heard.subdivision;

const FRAME = 0.1;

/** Pairwise F of frames said to hold the same music (Levy and Sandler 2008): 0.1 s frames over what both annotate. */
export function sameMusicF(
  truth: readonly (Stretch & { like: string })[],
  heard: readonly (Stretch & { like: string })[],
): number {
  const end = Math.min(truth.at(-1)?.end ?? 0, heard.at(-1)?.end ?? 0);
  const start = Math.max(truth[0]?.start ?? 0, heard[0]?.start ?? 0);
  const together = new Map<string, number>();
  const ofTruth = new Map<string, number>();
  const ofHeard = new Map<string, number>();
  const labelAt = (list: readonly (Stretch & { like: string })[], t: number): string | undefined =>
    list.find((s) => t >= s.start && t < s.end)?.like;
  for (let n = 0; start + (n + 0.5) * FRAME < end; n++) {
    const a = labelAt(truth, start + (n + 0.5) * FRAME);
    const b = labelAt(heard, start + (n + 0.5) * FRAME);
    if (a === undefined || b === undefined) continue;
    for (const [map, key] of [
      [ofTruth, a],
      [ofHeard, b],
      [together, `${a}\n${b}`],
    ] as const) {
      map.set(key, (map.get(key) ?? 0) + 1);
    }
  }
  const pairs = (map: Map<string, number>): number =>
    [...map.values()].reduce((sum, n) => sum + (n * (n - 1)) / 2, 0);
  const both = pairs(together);
  return both === 0 ? 0 : (2 * both) / (pairs(ofTruth) + pairs(ofHeard));
}

const SAME_PITCH: Record<string, string> = { 'C#': 'Db', 'D#': 'Eb', Gb: 'F#', 'G#': 'Ab', 'A#': 'Bb' };

/** The same tonic and mode, however its black key is spelt: `C# minor` is `Db minor`. */
export function keyOk(truth: string, heard: string): boolean {
  const spelt = (key: string): string => {
    const [tonic = '', mode = ''] = key.trim().split(/\s+/);
    return `${SAME_PITCH[tonic] ?? tonic} ${mode.toLowerCase()}`;
  };
  return spelt(truth) === spelt(heard);
}
