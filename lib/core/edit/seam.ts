import type { Samples } from '../signal/samples.ts';
import { cosine, median, quantile } from '../signal/statistics.ts';
import { chromaOf, type FeatureTable, loudnessAt, timbreOf } from '../song/features.ts';
import type { Grid } from '../song/grid.ts';
import { type RecordTime, recordTime, wholeMicros } from '../units.ts';
import { align, beatError } from './alignment.ts';
import { likeness } from './crossfade.ts';
import { intervalAround } from './recordCounts.ts';
import { BEATS, type Place, type SoftBeat, softBeatError } from './softBeat.ts';

export interface SeamFigures {
  /** Error of the beat interval across the seam, never less than what it is sure to; null reads "not measured". */
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

/** Seconds. This long and ending this much before the bar line was heard least in trials with synthesised songs. */
const CROSSFADE = 0.03;
const BEFORE_THE_BAR = 0.006;

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
 * The best seam between two bar lines, from the sound: the second aligned to the sample by correlation, the crossfade a
 * little before the bar. The beat error is what is left between the attacks on both sides, two beats each. Without clear
 * attacks the second place is put right by the softer sounds of four beats, and what is left is as much as they are sure to.
 * @param from @param to bar lines in seconds of record time
 */
export function measureSeam(
  samples: Samples,
  features: FeatureTable,
  grid: Grid,
  usual: Usual,
  from: number,
  to: number,
): Seam {
  const beat = barAt(grid, from) / grid.beatsPerBar;
  const { shift } = align(samples, from, to, beat);
  const attacks = beatError(samples, from, to + shift, beat);
  const soft = attacks === null ? softErrorAt(samples, grid, from, to + shift) : null;
  const place = seamBetween(from, to + shift + (soft?.error ?? 0));
  const left = attacks === null ? soft?.uncertainty : Math.abs(attacks);
  const { rate } = samples;
  const sample = (time: number) => Math.round(time * rate);
  const faded = sample(CROSSFADE);
  return {
    ...place,
    correlation: likeness(samples, sample(place.from), sample(place.to), faded),
    ...seamFigures(features, grid, usual, from, to),
    beatErrorMs: left === undefined ? null : left * 1000,
  };
}

/**
 * Error of the beat in seconds where a seam lies, whether there are attacks to tell it or only softer sounds; never less than it is
 * sure to. Null where neither tells.
 */
export function beatErrorAt(samples: Samples, grid: Grid, from: number, to: number): number | null {
  const attacks = beatError(samples, from, to, barAt(grid, from) / grid.beatsPerBar);
  if (attacks !== null) return Math.abs(attacks);
  const soft = softErrorAt(samples, grid, from, to);
  return soft && Math.max(Math.abs(soft.error), soft.uncertainty);
}

const softErrorAt = (samples: Samples, grid: Grid, from: number, to: number): SoftBeat | null =>
  softBeatError(samples, placeIn(grid, from), placeIn(grid, to));

/** A place with the mean of the beats before it and after it, where the grid has them. */
function placeIn(grid: Grid, at: number): Place {
  const { beats } = grid;
  const next = beats.findIndex((beat) => beat >= at - barAt(grid, at) / grid.beatsPerBar / 2);
  const here = next < 0 ? beats.length - 1 : next;
  const usual = barAt(grid, at) / grid.beatsPerBar;
  const pace = (from: number, to: number) => {
    const [a, b] = [Math.max(0, from), Math.min(beats.length - 1, to)];
    return b > a ? (beats[b]! - beats[a]!) / (b - a) : usual;
  };
  return { at, before: pace(here - BEATS, here), after: pace(here, here + BEATS) };
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

function harmonyBetween(features: FeatureTable, a: Stretch, b: Stretch): number {
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
