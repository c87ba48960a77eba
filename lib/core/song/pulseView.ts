import { mean } from '../signal/statistics.ts';
import type { Frames } from './frames.ts';
import { type HarmonyChange, harmonyChanges, runningSums } from './harmony.ts';
import { crestAt, type NetCurves, netCurves } from './net/curves.ts';
import { between } from './pulse.ts';
import { type Turn, turnsOf } from './turns.ts';

/** What is prepared once for a song, from which every pulse is looked at. */
export interface Scene {
  frames: Frames;
  change: HarmonyChange;
  sums: { chroma: Float64Array; bass: Float64Array };
  /** Each moment holds the largest onset within NEAR of it. */
  crests: { onset: Float32Array; low: Float32Array; high: Float32Array };
  turns: Turn[];
  net: NetCurves;
}

/** An onset so near a moment belongs to it. Seconds. */
const NEAR = 0.035;
/** No single onset counts for more. */
const MOST = 6;

export function sceneOf(frames: Frames, net: NetCurves = netCurves(frames.net)): Scene {
  const reach = Math.max(1, Math.round(NEAR * frames.onsetRate));
  const sums = { chroma: runningSums(frames.chroma), bass: runningSums(frames.bass) };
  return {
    frames,
    sums,
    net,
    change: harmonyChanges(sums, frames.toneRate),
    crests: {
      onset: crest(frames.onset, reach),
      low: crest(frames.low, reach),
      high: crest(frames.high, reach),
    },
    turns: turnsOf(frames),
  };
}

function crest(curve: Float32Array, reach: number): Float32Array {
  return curve.map((_, i) => {
    let best = 0;
    for (let k = Math.max(0, i - reach); k <= i + reach && k < curve.length; k++) {
      if (curve[k]! > best) best = curve[k]!;
    }
    return Math.min(best, MOST);
  });
}

/** Values at each beat of one pulse, from which every metre upon it is judged. */
export interface PulseView {
  period: number;
  onset: Float64Array;
  low: Float64Array;
  high: Float64Array;
  harmony: Float64Array;
  wide: Float64Array;
  /** Strength of the turn of the song that falls on each beat; mostly 0. */
  turns: Float64Array;
  /** Share of the beats that are clearly divided in three, less those clearly in two. */
  threes: number;
  /** Mean onset at halves, thirds and quarters of the beats. */
  half: number;
  thirds: number;
  quarters: number;
  lowHalf: number;
  lowThirds: number;
  highHalf: number;
  highThirds: number;
  harmonyHalf: number;
  harmonyThirds: number;
  covered: number;
  /** Mean onset within 10 ms of a half, of a swung half, and of the second and first third of a beat. */
  fine: number[];
  /** Mean change from one interval to the next, as a log ratio, ten times. */
  uneven: number;
  net: NetView;
}

/** What the learned ear says along one chain: log odds of a beat and of a bar's first at each beat, and of a beat between them, on the mean. */
interface NetView {
  beats: Float64Array;
  bars: Float64Array;
  half: number;
  thirds: number;
  /** What it says of the song as a whole. */
  song: NetCurves;
}

/** A swung half comes so late in its beat: between a half and two thirds. */
const SWUNG = 0.59;

/** Every beat is looked at in so many places: its halves, thirds and quarters fall on them. */
export const PARTS = 12;

/** What is heard along one chain of beats and between them, from which the chains beside it are seen as well. */
export interface Ruler {
  beats: readonly number[];
  period: number;
  /** PARTS values a beat. */
  onset: Float64Array;
  low: Float64Array;
  high: Float64Array;
  /** A value a beat, for each place at which a chain may lie: on the beat, at its thirds and at its half. */
  harmony: Record<Place, Float64Array>;
  wide: Record<Place, Float64Array>;
}

/** Where a chain lies beside the ruler's, in parts of a beat. */
export type Place = 0 | 4 | 6 | 8;
export const PLACES = [0, 4, 6, 8] as const;

/** @param beats ascending seconds, at least two */
export function rulerOf({ frames, crests, change }: Scene, beats: readonly number[]): Ruler {
  const period = (beats.at(-1)! - beats[0]!) / Math.max(1, beats.length - 1);
  const rate = frames.onsetRate;
  const along = (curve: Float32Array): Float64Array => {
    const out = new Float64Array((beats.length - 1) * PARTS);
    for (let i = 0; i + 1 < beats.length; i++) {
      const step = (beats[i + 1]! - beats[i]!) / PARTS;
      for (let p = 0; p < PARTS; p++)
        out[i * PARTS + p] = curve[Math.round((beats[i]! + p * step) * rate)] ?? 0;
    }
    return out;
  };
  const changes = (reach: number): Record<Place, Float64Array> => {
    const at = (place: Place): Float64Array =>
      Float64Array.from(placed(beats, place), (time) => change(time, reach));
    return { 0: at(0), 4: at(4), 6: at(6), 8: at(8) };
  };
  return {
    beats,
    period,
    onset: along(crests.onset),
    low: along(crests.low),
    high: along(crests.high),
    harmony: changes(Math.min(0.6, Math.max(0.25, period))),
    wide: changes(Math.min(2, 2 * period + 0.2)),
  };
}

/** The chain that lies so many parts of a beat after another; one event fewer. */
export const placed = (beats: readonly number[], place: Place): number[] => between(beats, place / PARTS);

/** Looks along the chain at one place of a ruler. */
export function viewOf(scene: Scene, ruler: Ruler, place: Place): PulseView {
  const count = ruler.beats.length - 1;
  const at = (values: Float64Array, part: number): Float64Array => {
    const out = new Float64Array(count);
    for (let i = 0; i < count; i++) out[i] = values[i * PARTS + place + part] ?? 0;
    return out;
  };
  const onset = at(ruler.onset, 0);
  const [third, second, last] = [at(ruler.onset, 4), at(ruler.onset, 6), at(ruler.onset, 8)];
  let threes = 0;
  for (let i = 0; i < count; i++) {
    const lead = Math.max(third[i]!, last[i]!) - second[i]!;
    if (Math.abs(lead) > 0.3) threes += Math.sign(lead) / count;
  }
  const pair = (values: Float64Array, one: number, other: number): number =>
    (mean(at(values, one)) + mean(at(values, other))) / 2;
  const { harmony } = ruler;
  const harmonyAt = (part: 4 | 6 | 8): number => {
    const there = (place + part) % PARTS;
    // Halves of the chains at the thirds were not looked at: what lies to either side stands for them.
    if (there === 2) return (mean(harmony[0]) + mean(harmony[4])) / 2;
    if (there === 10) return (mean(harmony[8]) + mean(harmony[0])) / 2;
    return mean(harmony[there as Place]);
  };
  const typical = mean(onset);
  const beats = placed(ruler.beats, place);
  return {
    period: ruler.period,
    onset,
    low: at(ruler.low, 0),
    high: at(ruler.high, 0),
    harmony: ruler.harmony[place],
    wide: ruler.wide[place],
    turns: turnsOn(beats, scene.turns),
    threes,
    half: mean(second),
    thirds: (mean(third) + mean(last)) / 2,
    quarters: pair(ruler.onset, 3, 9),
    lowHalf: mean(at(ruler.low, 6)),
    lowThirds: pair(ruler.low, 4, 8),
    highHalf: mean(at(ruler.high, 6)),
    highThirds: pair(ruler.high, 4, 8),
    harmonyHalf: harmonyAt(6),
    harmonyThirds: (harmonyAt(4) + harmonyAt(8)) / 2,
    covered: onset.filter((x) => x > 0.4 * typical).length / count,
    fine: [1 / 2, SWUNG, 2 / 3, 1 / 3].map((share) => finely(scene.frames, beats, share)),
    uneven: 10 * unevenness(beats),
    net: netAlong(scene.net, beats),
  };
}

function unevenness(beats: readonly number[]): number {
  let sum = 0;
  for (let i = 2; i < beats.length; i++)
    sum += Math.abs(Math.log((beats[i]! - beats[i - 1]!) / (beats[i - 1]! - beats[i - 2]!)));
  return sum / Math.max(1, beats.length - 2);
}

function netAlong(song: NetCurves, beats: readonly number[]): NetView {
  const { beat, bar, rate } = song;
  const amid = (share: number): number =>
    mean(Float64Array.from(between(beats, share), (t) => crestAt(beat, rate, t)));
  return {
    beats: Float64Array.from(beats, (t) => crestAt(beat, rate, t)),
    bars: Float64Array.from(beats, (t) => crestAt(bar, rate, t)),
    half: amid(1 / 2),
    thirds: (amid(1 / 3) + amid(2 / 3)) / 2,
    song,
  };
}

/** Mean onset within a frame of one share of each beat, in typical onsets of the song. */
function finely({ onset, onsetRate }: Frames, beats: readonly number[], share: number): number {
  let sum = 0;
  for (let i = 0; i + 1 < beats.length; i++) {
    const at = Math.round((beats[i]! + share * (beats[i + 1]! - beats[i]!)) * onsetRate);
    sum += Math.max(onset[at - 1] ?? 0, onset[at] ?? 0, onset[at + 1] ?? 0);
  }
  return sum / Math.max(1, beats.length - 1);
}

/** Each turn given to the beat nearest to it. */
function turnsOn(beats: readonly number[], turns: readonly Turn[]): Float64Array {
  const out = new Float64Array(beats.length);
  let i = 0;
  for (const { at, strength } of turns) {
    while (i + 1 < beats.length && Math.abs(beats[i + 1]! - at) <= Math.abs(beats[i]! - at)) i++;
    out[i]! += strength;
  }
  return out;
}
