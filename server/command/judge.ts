import { type Calibration, type Claim, calibrationOf, wilson } from '../../lib/core/song/calibration.ts';
import type { Listening } from '../../lib/core/song/listen.ts';
import * as metrics from '../../lib/core/song/metrics.ts';
import type { Truth } from './annotated.ts';

/** Every one is a share between 0 and 1; the last three only where a truth file says what is true. */
export const FIGURES = [
  'beatF',
  'downbeatF',
  'cmlt',
  'amlt',
  'tempo1',
  'tempo2',
  'boundary05',
  'boundary3',
  'metreOk',
  'sameMusicF',
  'keyOk',
] as const;
export type Figure = (typeof FIGURES)[number];
export type Figures = Partial<Record<Figure, number>>;

/** What is judged of beats, whoever heard them; `bars` undefined of a library that hears none. */
export interface HeardBeats {
  beats: readonly number[];
  bars?: readonly number[];
  /** Beats a minute. */
  tempo: number;
}

export function beatFigures({ beats, downbeats }: Truth, heard: HeardBeats): Figures {
  const { tempo1, tempo2 } = metrics.tempoRight(metrics.tempoOf(beats), heard.tempo);
  return {
    beatF: metrics.beatF(beats, heard.beats),
    ...(heard.bars && { downbeatF: metrics.downbeatF(downbeats, heard.bars) }),
    ...metrics.continuity(beats, heard.beats),
    tempo1: Number(tempo1),
    tempo2: Number(tempo2),
  };
}

/** All figures that the truth allows. What could not be heard (null) counts as nothing heard. */
export function figuresOf(truth: Truth, heard: Listening | null): Figures {
  const sections = heard?.sections ?? [];
  return {
    ...beatFigures(truth, heard ?? { beats: [], bars: [], tempo: 0 }),
    boundary05: metrics.boundaryF(truth.sections, sections, 0.5),
    boundary3: metrics.boundaryF(truth.sections, sections, 3),
    ...(truth.metre && { metreOk: Number(heard !== null && metrics.metreOk(truth.metre, heard.metre)) }),
    ...(truth.music && { sameMusicF: metrics.sameMusicF(truth.music, sections) }),
    ...(truth.key !== undefined && { keyOk: Number(heard !== null && metrics.keyOk(truth.key, heard.key)) }),
  };
}

/** Over the songs that have the figure. */
export function meanOf<Name extends string>(
  names: readonly Name[],
  songs: readonly Partial<Record<Name, number>>[],
): Partial<Record<Name, number>> {
  const mean: Partial<Record<Name, number>> = {};
  for (const name of names) {
    const values = songs.flatMap((song) => song[name] ?? []);
    if (values.length > 0) mean[name] = values.reduce((sum, x) => sum + x, 0) / values.length;
  }
  return mean;
}

export interface Interval {
  n: number;
  low: number;
  high: number;
}

/** How far each mean can be trusted: the songs it is of, and its 90 % interval. */
export function intervalsOf(songs: readonly Figures[]): Partial<Record<Figure, Interval>> {
  const mean = meanOf(FIGURES, songs);
  const intervals: Partial<Record<Figure, Interval>> = {};
  for (const figure of FIGURES) {
    const n = songs.filter((song) => song[figure] !== undefined).length;
    if (n === 0) continue;
    const [low, high] = wilson(mean[figure]!, n);
    intervals[figure] = { n, low, high };
  }
  return intervals;
}

export const CONFIDENCES = ['beats', 'metre', 'bars', 'sections', 'key', 'song'] as const;
export type Confidence = (typeof CONFIDENCES)[number];
/** One song's confidences beside what was right. */
export type Claims = Partial<Record<Confidence, Claim>>;

/** So much of beats or bars must meet the true ones to be them: what two ways to hear a song must share to count as one. */
const SAME = 0.85;

/**
 * Results fail together more than by chance, a song that is hard in one being hard in others: the product of their confidences says too
 * little. Its power of least log loss on 96 songs.
 */
const TOGETHER = 0.65;

/**
 * Beats and bars are right when they are the true ones, metre and key when they are named rightly; of sections the share counts
 * (F of their boundaries within half a second), since their confidence speaks of each boundary. The song is right as far as all of
 * these are: beats, metre and bars stand or fall together, so the least of them counts; sections and key fail by themselves.
 */
export function claimsOf(figures: Figures, heard: Listening | null): Claims {
  if (heard === null) return {};
  const { confidence } = heard;
  const claims: Claims = {
    beats: { said: confidence.beats, right: Number(figures.beatF! >= SAME) },
    bars: { said: confidence.bars, right: Number(figures.downbeatF! >= SAME) },
    sections: { said: confidence.sections, right: figures.boundary05! },
  };
  if (figures.metreOk !== undefined) claims.metre = { said: confidence.metre, right: figures.metreOk };
  if (figures.keyOk !== undefined) claims.key = { said: confidence.key, right: figures.keyOk };
  const { beats, metre, bars, sections, key } = claims;
  if (metre && key) {
    claims.song = {
      said: (Math.min(beats!.said, metre.said, bars!.said) * sections!.said * key.said) ** TOGETHER,
      right: Math.min(beats!.right, metre.right, bars!.right) * sections!.right * key.right,
    };
  }
  return claims;
}

export function calibrationsOf(claims: readonly Claims[]): Partial<Record<Confidence, Calibration>> {
  const calibrations: Partial<Record<Confidence, Calibration>> = {};
  for (const name of CONFIDENCES) {
    const ofName = claims.flatMap((song) => song[name] ?? []);
    if (ofName.length > 0) calibrations[name] = calibrationOf(ofName);
  }
  return calibrations;
}
