import type { Samples } from '../signal/samples.ts';
import { cosine, median, quantile } from '../signal/statistics.ts';
import { chromaOf, type FeatureTable, loudnessAt, timbreOf } from '../song/features.ts';
import type { Grid } from '../song/grid.ts';
import { type RecordTime, recordTime, wholeMicros } from '../units.ts';
import { sameSoundAt } from './alignment.ts';
import { likeness } from './crossfade.ts';
import { intervalAround } from './recordCounts.ts';
import {
  beatBetween,
  type Place,
  type Rises,
  reachOf,
  risesAt,
  type SoftBeat,
  softBeatError,
} from './softBeat.ts';

export interface SeamFigures {
  /**
   * Error of the beat interval across the seam, never less than what it is sure to; positive where the beat after it comes late,
   * or where no side is known; null reads "not measured".
   */
  beatErrorMs: number | null;
  /**
   * Step of the level beyond what the song itself does: the difference of the step heard (bar before, bar after) from the
   * nearest of no step and the song's own steps at the two places.
   */
  levelStepLu: number;
  /**
   * How far the music after the seam is from what would be expected there, in the song's own usual distance from bar to
   * bar: 1 is usual. Harmony by the cosine of the pitch classes, timbre by the six bands in dB.
   */
  harmony: number;
  timbre: number;
}

export interface Seam extends SeamFigures {
  from: RecordTime;
  to: RecordTime;
  /** Seconds. */
  crossfade: number;
  /** Of the two sounds in the crossfade, 0 to 1. */
  correlation: number;
}

/**
 * Seconds. This long was heard least in trials with synthesised songs; ending so much before the bar line, no sample steps and no
 * high frequencies rose above those around in 48 made songs (at 6 ms in one), and notes played early come after it.
 */
const CROSSFADE = 0.03;
export const BEFORE_THE_BAR = 0.012;

/** Steps that one bar of this song usually makes to the next. */
export interface Usual {
  /** Median distances of neighbouring bars over the whole song: the unit of the figures. */
  harmony: number;
  timbre: number;
  /** What 19 of 20 neighbouring bars stay below, in that unit. */
  most: { harmony: number; timbre: number };
}

export function usualSteps(features: FeatureTable, grid: Grid): Usual {
  const harmony: number[] = [];
  const timbre: number[] = [];
  const lines = grid.bars.map((i) => grid.beats[i]!);
  for (let i = 1; i + 1 < lines.length; i++) {
    const before = [lines[i - 1]!, lines[i]!] as const;
    const after = [lines[i]!, lines[i + 1]!] as const;
    harmony.push(harmonyBetween(features, before, after));
    timbre.push(timbreBetween(features, before, after));
  }
  const inUnit = (steps: number[]) => quantile(steps, 0.95) / (median(steps) + LEAST_UNIT);
  return {
    harmony: median(harmony),
    timbre: median(timbre),
    most: { harmony: inUnit(harmony), timbre: inUnit(timbre) },
  };
}

/** Keeps the figures finite in a song whose bars are all alike. */
const LEAST_UNIT = 1e-3;

/**
 * The figures of a seam that need no sound: for hand-made edits and for ranking. What follows the seam is held against what
 * was before it, against what followed there, and what was before against what led to the place after: the likest counts,
 * since any of the three makes the step one that the song itself makes.
 */
export function seamFigures(
  features: FeatureTable,
  grid: Grid,
  usual: Usual,
  from: number,
  to: number,
): SeamFigures {
  const bar = barAt(grid, from);
  const other = barAt(grid, to);
  const [endA, nextA] = [stretch(from - bar, from), stretch(from, from + bar)];
  const [endB, nextB] = [stretch(to - other, to), stretch(to, to + other)];
  const pairs = [
    [endA, nextB],
    [nextA, nextB],
    [endA, endB],
  ] as const;
  const least = (distance: typeof harmonyBetween, unit: number) =>
    Math.min(...pairs.map(([a, b]) => distance(features, a, b))) / (unit + LEAST_UNIT);
  const [beforeA, afterA, beforeB, afterB] = [endA, nextA, endB, nextB].map((s) => levelOf(features, s)) as [
    number,
    number,
    number,
    number,
  ];
  const step = afterB - beforeA;
  const own = [0, afterA - beforeA, afterB - beforeB].map((natural) => step - natural);
  return {
    beatErrorMs: null,
    levelStepLu: own.reduce((least, x) => (Math.abs(x) < Math.abs(least) ? x : least)),
    harmony: least(harmonyBetween, usual.harmony),
    timbre: least(timbreBetween, usual.timbre),
  };
}

/**
 * Finds and measures the best seam between two bar lines of a song, from the sound. The second line is put where its beats, some
 * to either side, come as those about the first do, and to the sample where both are the same sound; where the tempo is another,
 * the beat across the seam is put half-way between the beat before it and the one after it. The crossfade lies a little before it.
 * The beat error is what the beats are sure to; where they do not agree, the grid's lines stand, not measured. What is heard
 * about a place is kept: many pairs share theirs.
 */
export function seamFinder(samples: Samples, features: FeatureTable, grid: Grid): SeamFinder {
  const usual = usualSteps(features, grid);
  const beat = usualBeat(grid);
  const reach = reachOf(beat);
  const heard = new Map<number, Rises>();
  const risesAbout = (at: number): Rises => {
    const known = heard.get(at) ?? risesAt(samples, placeIn(grid, at), beat, reach, reach);
    heard.set(at, known);
    return known;
  };
  const leads = new Map<number, Rises>();
  const leadingTo = (at: number): Rises => {
    const known = heard.get(at) ?? leads.get(at) ?? risesAt(samples, placeIn(grid, at), beat, LEAD, 0);
    leads.set(at, known);
    return known;
  };
  const { rate } = samples;
  const sample = (time: number) => Math.round(time * rate);
  const find = (from: number, to: number, met: Met = { from, to }): Seam => {
    const soft = beatBetween(risesAbout(from), risesAbout(to));
    const line = to + (soft ? soft.error * trustIn(soft) : 0);
    const aligned = line + (sameSoundAt(samples, from, line) ?? 0) + tempoStep(grid, from, to) / 2;
    const place = seamBetween(met.from, met.to + aligned - to);
    return {
      ...place,
      correlation: likeness(samples, sample(place.from), sample(place.to), sample(CROSSFADE)),
      ...seamFigures(features, grid, usual, from, to),
      beatErrorMs: soft && soft.uncertainty * 1000,
    };
  };
  return { find, leadingTo };
}

/** Beats before a bar line from which a pick-up is told. */
const LEAD = 3;

/** Seconds by which a beat before the first place is longer than one after the second. */
function tempoStep(grid: Grid, from: number, to: number): number {
  const [a, b] = [placeIn(grid, from), placeIn(grid, to)];
  return (a.timeAt(0) - a.timeAt(-PACE)) / PACE - (b.timeAt(PACE) - b.timeAt(0)) / PACE;
}

/** Beats over which the tempo about a place is taken. */
const PACE = 4;

/** Seconds, one standard deviation: how far two lines of a grid are from lying alike, about what it is in 190 songs of known beats. */
const GRID = 0.008;

/** A difference of so many standard deviations means that the grid is wrong there, as one that was tapped may be. */
const WRONG = 2;

/** What is heard and what the grid says, each by how sure it is: the share of the error heard that is made up for, 0 to 1. */
function trustIn({ error, uncertainty }: SoftBeat): number {
  if (Math.abs(error) > WRONG * Math.hypot(GRID, uncertainty)) return 1;
  return GRID ** 2 / (GRID ** 2 + uncertainty ** 2);
}

/** The places that meet, seconds of record time: the bar lines, or places before both where notes lead into a bar. */
interface Met {
  from: number;
  to: number;
}

export interface SeamFinder {
  /**
   * @param from @param to bar lines of the grid in seconds of record time, where the beat is heard best
   * @param met where they meet, if not there
   */
  find(from: number, to: number, met?: Met): Seam;
  /** What is heard in the LEAD beats before a line, or in more where that is known. */
  leadingTo(at: number): Rises;
}

/**
 * Error of the beat across a seam in seconds, against the mean of the beat before it and the one after it; positive where the beat
 * after it comes late; never less than what the beats are sure to. Null where they do not agree.
 */
export function beatErrorAt(samples: Samples, grid: Grid, from: number, to: number): number | null {
  const found = softBeatError(samples, placeIn(grid, from), placeIn(grid, to), usualBeat(grid));
  if (!found) return null;
  const error = found.error + tempoStep(grid, from, to) / 2;
  const size = Math.max(Math.abs(error), found.uncertainty);
  return error < 0 ? -size : size;
}

/** Seconds a beat in the song as a whole. */
const usualBeat = ({ beats }: Grid): number => median(beats.slice(1).map((at, i) => at - beats[i]!));

/** Beats to either side over which a grid's beats are evened out: those that were tapped stray by some 20 ms. */
const EVENED = 4;

/** A place by the beats of the grid about it, evened out, which go on evenly beyond its first and its last; of none, all is one moment. */
function placeIn(grid: Grid, at: number): Place {
  const { beats } = grid;
  if (beats.length < 2) return { timeAt: () => at };
  const last = beats.length - 1;
  const [first, end] = [barAt(grid, 0) / grid.beatsPerBar, barAt(grid, beats[last]!) / grid.beatsPerBar];
  const timeOf = (beat: number): number => {
    if (beat < 0) return beats[0]! + beat * first;
    return beat > last ? beats[last]! + (beat - last) * end : beats[beat]!;
  };
  const evened = (beat: number): number => {
    let sum = 0;
    for (let off = -EVENED; off <= EVENED; off++) sum += timeOf(beat + off);
    return sum / (2 * EVENED + 1);
  };
  const here = nearestBeat(beats, at);
  const shift = at - evened(here);
  return { timeAt: (off) => evened(here + off) + shift };
}

function nearestBeat(beats: readonly number[], at: number): number {
  const next = beats.findIndex((beat) => beat >= at);
  if (next <= 0) return next < 0 ? beats.length - 1 : 0;
  return at - beats[next - 1]! < beats[next]! - at ? next - 1 : next;
}

/** A seam at two bar lines as the grid has them. */
export function seamBetween(from: number, to: number): Pick<Seam, 'from' | 'to' | 'crossfade'> {
  return {
    from: recordTime(wholeMicros(Math.max(0, from - BEFORE_THE_BAR))),
    to: recordTime(wholeMicros(Math.max(0, to - BEFORE_THE_BAR))),
    crossfade: CROSSFADE,
  };
}

/** Seconds a bar about a moment. */
export function barAt(grid: Grid, at: number): number {
  const next = grid.beats.findIndex((beat) => beat >= at);
  return intervalAround(grid.beats, next < 0 ? grid.beats.length - 1 : next) * grid.beatsPerBar;
}

type Stretch = readonly [number, number];
const stretch = (from: number, to: number): Stretch => [from, to];

/** 1 less the cosine of the pitch classes of two stretches. */
export function harmonyBetween(features: FeatureTable, a: Stretch, b: Stretch): number {
  const chroma = ([from, to]: Stretch) => chromaOf(features, recordTime(from), recordTime(to));
  return 1 - cosine(chroma(a), chroma(b));
}

/** Mean difference of the bands in dB. */
function timbreBetween(features: FeatureTable, a: Stretch, b: Stretch): number {
  const [x, y] = [a, b].map(([from, to]) => timbreOf(features, recordTime(from), recordTime(to)));
  return x!.reduce((sum, band, i) => sum + Math.abs(band - y![i]!), 0) / x!.length;
}

/** Mean power of a stretch as LUFS. */
function levelOf(features: FeatureTable, [from, to]: Stretch): number {
  let power = 0;
  let n = 0;
  for (let at = from + features.frame / 2; at < to; at += features.frame, n++) {
    power += 10 ** (loudnessAt(features, recordTime(at)) / 10);
  }
  return n === 0 ? -80 : 10 * Math.log10(power / n + 1e-8);
}
