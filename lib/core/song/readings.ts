import { median } from '../signal/statistics.ts';
import { recordTime } from '../units.ts';
import { type Activations, activationsFrom } from './activations.ts';
import type { Correction, Metre } from './evidence.ts';
import { type Freedom, follow, LOOSE, STRICT } from './follow.ts';
import type { Frames } from './frames.ts';
import { delaysOf, type HandFit, handFit } from './hand.ts';
import { hypothesesOn } from './hypothesis.ts';
import { likenessAlong } from './likeness.ts';
import { pulsesOf } from './metre.ts';
import { eventF } from './metrics.ts';
import { rulerOf, type Scene, sceneOf, viewOf } from './pulseView.ts';
import { nearest } from './stretches.ts';
import { tappedPulse } from './taps.ts';
import { weigh } from './weights.ts';

/** A recording that can be heard again: everything of it that does not depend on what people say. */
export interface Hearable {
  scene: Scene;
  activations: Activations;
  /** Chains of beats that the music alone suggests. */
  chains: Chain[];
}

/** A chain of possible beats, ascending seconds, with every metre upon it and how much the music speaks for each. */
export interface Chain {
  beats: number[];
  /** How freely it was followed. */
  play: Freedom;
  heard: { metre: Metre; firstBar: number; score: number }[];
}

/** One way to hear the song with what was said of it. */
export interface Reading extends Metre {
  beats: readonly number[];
  play: Freedom;
  /** Index of the first beat that opens a bar, below beatsPerBar. */
  firstBar: number;
  /** Beats a minute, median. */
  tempo: number;
  /** Its share of all readings, 0 to 1. */
  odds: number;
}

/** A chain that may bend to the onsets gathers more of them than one that keeps time, also where nothing bends. By trial. */
const BENT = 2;
/** Chains that are followed freely, of those that keep time. */
const FREELY = 3;
/** The scores are log odds that trust themselves a little too much, as metre.ts says of the same. */
const SOBER = 1.3;
/** Two lists are the same events when this share of them meet within 70 ms. */
const SAME = 0.85;
/** Readings that are told apart at most. */
const TOLD = 12;

/** Takes about as long as listening does. */
export function hearable(frames: Frames): Hearable {
  const scene = sceneOf(frames);
  const activations = activationsFrom(frames);
  const chains = pulsesOf(scene).map(
    ({ beats, place, ruler, likeness }, i): Chain => ({
      beats,
      play: STRICT,
      heard: hypothesesOn(viewOf(scene, ruler, place), likeness, i).map(scored),
    }),
  );
  const best = [...chains].sort((a, b) => topOf(b) - topOf(a));
  const free = best.slice(0, FREELY).flatMap(({ beats }) => {
    const { beats: bent } = follow(activations, { pace: paceAlong(beats), play: LOOSE });
    return chainOf(scene, bent, LOOSE);
  });
  return { scene, activations, chains: [...chains, ...free] };
}

const topOf = ({ heard }: Chain): number => Math.max(...heard.map(({ score }) => score));

const scored = ({
  beatsPerBar,
  subdivision,
  firstBar,
  evidence,
}: ReturnType<typeof hypothesesOn>[number]): Chain['heard'][number] => ({
  metre: { beatsPerBar, subdivision },
  firstBar,
  score: weigh(evidence),
});

/** Every metre upon a chain of beats; none where it is too short to tell. */
export function chainOf(scene: Scene, beats: number[], play: Freedom): Chain[] {
  if (beats.length < 9) return [];
  const ruler = rulerOf(scene, beats);
  const likeness = likenessAlong(scene.frames, scene.sums, ruler);
  const heard = hypothesesOn(viewOf(scene, ruler, 0), likeness, 0).map(scored);
  return [{ beats, play, heard }];
}

/** Seconds from beat to beat about a moment, the median of the eight intervals around it. */
export function paceAlong(beats: readonly number[]): (at: number) => number {
  const intervals = beats.slice(1).map((t, i) => t - beats[i]!);
  const paces = intervals.map((_, i) => median(intervals.slice(Math.max(0, i - 4), i + 5)));
  return (at) => paces[Math.min(paces.length - 1, nearest(beats, at))] ?? 0.5;
}

/**
 * All ways to hear the song with what was said, best first: each chain and metre has the odds that the music gives it, times how
 * likely a person who hears it so would have said what they said. Chains that what was said suggests are tried beside those that
 * the music alone does.
 * @param seen the metre that people saw as they said it: what they did not put right they mostly think right
 */
export function readingsOf(
  song: Hearable,
  said: readonly Correction[],
  seen: Metre | null = null,
): Reading[] {
  const chains = [...song.chains, ...said.flatMap((one) => suggested(song, one, said))];
  const tacit = ({ beatsPerBar, subdivision }: Metre): number =>
    seen === null || said.length === 0
      ? 0
      : (beatsPerBar === seen.beatsPerBar ? TACIT.beats : 0) +
        (subdivision === seen.subdivision ? TACIT.parts : 0);
  const all = chains.flatMap((chain) => {
    const bent = chain.play === LOOSE ? BENT : 0;
    const ofBeats = said.reduce((sum, one) => sum + beatOdds(chain.beats, one), 0);
    return chain.heard.map(({ metre, firstBar, score }) => {
      const bars = chain.beats.filter((_, i) => i % metre.beatsPerBar === firstBar);
      const ofBars = said.reduce((sum, one) => sum + barOdds(chain.beats, bars, metre, one), 0);
      const weight = (score - bent) / SOBER + ofBeats + ofBars + tacit(metre);
      return { chain, metre, firstBar, bars, weight };
    });
  });
  const top = Math.max(...all.map(({ weight }) => weight));
  const whole = all.reduce((sum, { weight }) => sum + Math.exp(weight - top), 0);
  const told: (Reading & { bars: number[] })[] = [];
  for (const { chain, metre, firstBar, bars, weight } of all.sort((a, b) => b.weight - a.weight)) {
    const odds = Math.exp(weight - top) / whole;
    const same = told.find(
      (one) =>
        one.beatsPerBar === metre.beatsPerBar &&
        one.subdivision === metre.subdivision &&
        eventF(one.bars, bars, 0.07) >= SAME,
    );
    if (same) same.odds += odds;
    else if (told.length < TOLD && (told.length === 0 || odds > 1e-3)) {
      const { beats, play } = chain;
      told.push({ ...metre, beats, play, firstBar, tempo: tempoOf(beats), odds, bars });
    }
  }
  return told.sort((a, b) => b.odds - a.odds).map(({ bars: _, ...reading }) => reading);
}

/** Log odds that a metre is right which people see and do not put right as they put right something else. By common sense, no source. */
const TACIT = { beats: 2, parts: 1 };

const tempoOf = (beats: readonly number[]): number =>
  60 / median(beats.slice(1).map((t, i) => t - beats[i]!));

/** Taps and paces within this ratio are of one level. */
const LEVEL = Math.log(1.14);
/** Log odds against a reading that says otherwise than a person who was sure of the level or metre. */
const OTHERWISE = -25;

/** Chains that a correction suggests: through taps, at each delay the hand may have; at a pace that was said. */
function suggested(song: Hearable, one: Correction, said: readonly Correction[]): Chain[] {
  const { scene, activations } = song;
  const silent = stopsOf(said);
  const along = (pace: number, beats: readonly number[]) =>
    [STRICT, LOOSE].flatMap((play) =>
      chainOf(scene, follow(activations, { pace: () => pace, play, beats, silent }).beats, play),
    );
  if (one.kind === 'pace') return along(one.interval!, []);
  if (one.kind !== 'beats') return [];
  const pulse = tappedPulse(one.times);
  if (!pulse) return [];
  return lateBy(song, one).flatMap((late) =>
    along(
      pulse.period,
      one.times.map((t) => t - late),
    ),
  );
}

/** Delays at which a series of taps may have been made. Seconds. */
export const lateBy = ({ activations: { beat, rate } }: Hearable, { times, byHand }: Correction): number[] =>
  byHand ? delaysOf(times, (at) => beat[Math.round(at * rate)] ?? 0) : [0];

/** Stretches without counts. */
export const stopsOf = (said: readonly Correction[]): [number, number][] =>
  said
    .filter(({ kind }) => kind === 'stop')
    .map(({ times }): [number, number] => [times[0]!, times.at(-1)!])
    .sort((a, b) => a[0] - b[0]);

function beatOdds(beats: readonly number[], { kind, times, interval, sure, byHand }: Correction): number {
  if (kind === 'pace') return Math.abs(Math.log(60 / tempoOf(beats) / interval!)) < LEVEL ? 0 : OTHERWISE;
  if (kind !== 'beats') return 0;
  const pulse = tappedPulse(times.map(recordTime));
  if (pulse) {
    const from = nearest(beats, times[0]!);
    const own = beats.slice(Math.max(0, from - 1), nearest(beats, times.at(-1)!) + 2);
    const step = median(own.slice(1).map((t, i) => t - own[i]!));
    if (!(Math.abs(Math.log(step / pulse.period)) < LEVEL)) return OTHERWISE;
  }
  return handFit(times, beats, sure, byHand).likely;
}

function barOdds(
  beats: readonly number[],
  bars: readonly number[],
  metre: Metre,
  { kind, times, fromOne, metre: said, sure, byHand }: Correction,
): number {
  if (kind === 'metre') {
    return metre.beatsPerBar === said!.beatsPerBar && metre.subdivision === said!.subdivision ? 0 : OTHERWISE;
  }
  if (kind === 'bars') return handFit(times, bars, sure, byHand).likely;
  if (kind === 'not bars') {
    const on = times.filter((t) => Math.abs(bars[nearest(bars, t)]! - t) < 0.07).length;
    return on * Math.log(1 - sure);
  }
  if (kind !== 'beats' || !fromOne) return 0;
  // The delay is that of all the taps: of the first alone it could be another.
  const { late }: HandFit = handFit(times, beats, sure, byHand);
  return handFit([times[0]! - late], bars, FIRST_IS_ONE, false).likely;
}

/** Asked to begin on a one, people do so this often; by common sense, no source. */
const FIRST_IS_ONE = 0.93;
