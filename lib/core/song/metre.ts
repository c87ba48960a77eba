import type { Frames } from './frames.ts';
import { type Hypothesis, hypothesesOn } from './hypothesis.ts';
import { type Likeness, likenessAlong } from './likeness.ts';
import { eventF, tempoOf } from './metrics.ts';
import type { NetCurves } from './net/curves.ts';
import { periodsOf, track, trackFreely, widened } from './pulse.ts';
import { PLACES, type Place, placed, type Ruler, rulerOf, type Scene, sceneOf, viewOf } from './pulseView.ts';
import { weigh } from './weights.ts';

/** A chain of possible beats, and how it is looked at. */
export interface Pulse {
  beats: number[];
  /** It follows no clock: see `trackFreely`. */
  freely: boolean;
  place: Place;
  ruler: Ruler;
  likeness: Likeness;
}

/** Periods that only the learned ear suggests are tracked too, so many at most. */
const FROM_NET = 3;

/** Every period's best chain, and the chains that lie half and a third of a beat beside it. */
export function pulsesOf(scene: Scene): Pulse[] {
  const { onset, onsetRate } = scene.frames;
  const curve = widened(onset);
  const beatCurve = netOnsets(scene);
  const periods = periodsOf(onset, onsetRate);
  // Where nothing is struck again and again there is no beat, whatever the learned ear makes of it.
  if (periods.length === 0) return [];
  const heard = periodsOf(beatCurve, onsetRate).slice(0, FROM_NET);
  const mixed = curve.map((x, i) => 0.5 * x + (beatCurve[i] ?? 0));
  const steady = [
    ...periods.map((period) => track(curve, onsetRate, period)),
    ...heard.map((period) => track(mixed, onsetRate, period)),
  ];
  const free = heard
    .map((period) => trackFreely(beatCurve, onsetRate, period))
    .filter((beats) => steady.every((other) => eventF(beats, other, 0.07) < SAME));
  return [...steady, ...free].flatMap((beats, i) => {
    if (beats.length < 9) return [];
    const ruler = rulerOf(scene, beats);
    const likeness = likenessAlong(scene.frames, scene.sums, ruler);
    const freely = i >= steady.length;
    return PLACES.map((place) => ({ beats: placed(beats, place), freely, place, ruler, likeness }));
  });
}

/** A sure beat of the learned ear counts as much as an onset of so many deviations. */
const SURE_BEAT = 3;

/** What the learned ear takes for beats, at the rate of the onsets. */
function netOnsets({ net, frames }: Scene): Float32Array {
  const perFrame = net.rate / frames.onsetRate;
  return frames.onset.map((_, i) => {
    const at = i * perFrame;
    const k = Math.floor(at);
    const share = (j: number): number => 1 / (1 + Math.exp(-(net.beat[j] ?? -9)));
    return SURE_BEAT * ((1 - at + k) * share(k) + (at - k) * share(k + 1));
  });
}

export function hypothesesOf(scene: Scene, pulses: Pulse[]): Hypothesis[] {
  return pulses.flatMap(({ place, ruler, likeness }, i) =>
    hypothesesOn(viewOf(scene, ruler, place), likeness, i),
  );
}

/** The way the song is best heard, and how sure that is, 0 to 1. */
export interface HeardMetre {
  beats: number[];
  /** They follow no clock, and are not to be smoothed over more than their neighbours. */
  freely: boolean;
  /** The beats of the best of the ways that keep to a clock, by which music is told from speech: a free chain goes along with either. */
  steady: number[];
  beatsPerBar: 2 | 3 | 4;
  subdivision: 2 | 3;
  firstBar: number;
  confidence: { beats: number; metre: number; bars: number };
  /** The best first; see `Reading`. */
  readings: Reading[];
}

/** One way to count the song that the music bears. What a couple dances decides among several. */
export interface Reading {
  beatsPerBar: 2 | 3 | 4;
  subdivision: 2 | 3;
  /** Beats a minute, median. */
  tempo: number;
  /** The first beat that opens a bar, seconds of record time. */
  firstBar: number;
  /** How likely it is, 0 to 1; all together at most 1. */
  odds: number;
}

/** So many readings are told apart at most, and none that is less likely than this. */
const TOLD = 6;
const UNLIKELY = 0.01;

/** Two chains are one when this share of their events meet within 70 ms. */
const SAME = 0.85;

/**
 * The network trusts itself a little too much: its log odds are stretched and lowered until what it said and what was right agreed
 * (Platt 1999) on 384 songs that it was not fitted to, half of them with human timing; rounded, to the side of doubt.
 */
const METRE = { stretch: 1, lower: 0.6 };
const BARS = { stretch: 1, lower: 0.5 };

function sobered(share: number, { stretch, lower }: { stretch: number; lower: number }): number {
  const logOdds = Math.log(Math.max(share, 1e-9) / Math.max(1 - share, 1e-9));
  return 1 / (1 + Math.exp(lower - stretch * logOdds));
}

/** The hypothesis that the evidence supports most; confidences add up all hypotheses that agree with it in that respect. */
export function hearMetre(frames: Frames, net: NetCurves): HeardMetre | undefined {
  const scene = sceneOf(frames, net);
  const pulses = pulsesOf(scene);
  const hypotheses = hypothesesOf(scene, pulses);
  const scores = hypotheses.map(({ evidence }) => weigh(evidence));
  const top = Math.max(...scores);
  const best = hypotheses[scores.indexOf(top)];
  if (!best) return undefined;
  const likely = scores.map((score) => Math.exp(score - top));
  const barsOf = (h: Hypothesis): number[] =>
    pulses[h.pulse]!.beats.filter((_, i) => i % h.beatsPerBar === h.firstBar);
  const { beats, freely } = pulses[best.pulse]!;
  let steady = best;
  let topSteady = Number.NEGATIVE_INFINITY;
  hypotheses.forEach((h, i) => {
    if (pulses[h.pulse]!.freely || scores[i]! <= topSteady) return;
    steady = h;
    topSteady = scores[i]!;
  });
  const bars = barsOf(best);
  const samePulse = pulses.map((pulse) => eventF(beats, pulse.beats, 0.07) >= SAME);
  const whole = likely.reduce((total, p) => total + p, 0);
  const share = (agrees: (h: Hypothesis, i: number) => boolean): number =>
    hypotheses.reduce((sum, h, i) => sum + (agrees(h, i) ? likely[i]! : 0), 0) / whole;
  const readings = readingsOf(
    hypotheses,
    pulses,
    likely.map((p) => p / whole),
  );
  return {
    beats,
    freely,
    steady: pulses[steady.pulse]!.beats,
    readings,
    beatsPerBar: best.beatsPerBar,
    subdivision: best.subdivision,
    firstBar: best.firstBar,
    confidence: {
      beats: share((h) => samePulse[h.pulse]!),
      metre: sobered(
        share((h) => h.beatsPerBar === best.beatsPerBar && h.subdivision === best.subdivision),
        METRE,
      ),
      bars: sobered(
        share((h, i) => likely[i]! > 1e-4 && eventF(bars, barsOf(h), 0.07) >= SAME),
        BARS,
      ),
    },
  };
}

/** Hypotheses that put the same bars under the same beats are one reading; each is sobered like the best one's bars. */
function readingsOf(hypotheses: Hypothesis[], pulses: Pulse[], odds: number[]): Reading[] {
  const order = [...odds.keys()].filter((i) => odds[i]! > 1e-3).sort((a, b) => odds[b]! - odds[a]!);
  const found: { h: Hypothesis; bars: number[]; odds: number }[] = [];
  for (const i of order) {
    const h = hypotheses[i]!;
    const bars = pulses[h.pulse]!.beats.filter((_, k) => k % h.beatsPerBar === h.firstBar);
    const same = found.find(
      (other) =>
        other.h.beatsPerBar === h.beatsPerBar &&
        other.h.subdivision === h.subdivision &&
        eventF(other.bars, bars, 0.07) >= SAME,
    );
    if (same) same.odds += odds[i]!;
    else if (found.length < 3 * TOLD) found.push({ h, bars, odds: odds[i]! });
  }
  found.sort((a, b) => b.odds - a.odds);
  // Odds that are sobered one by one could add up to more than 1.
  const sober = found.map((f) => sobered(Math.min(f.odds, 1 - 1e-9), BARS));
  const scale =
    1 /
    Math.max(
      1,
      sober.reduce((sum, p) => sum + p, 0),
    );
  return found
    .map(({ h, bars }, i) => ({
      beatsPerBar: h.beatsPerBar,
      subdivision: h.subdivision,
      tempo: tempoOf(pulses[h.pulse]!.beats),
      firstBar: bars[0] ?? 0,
      odds: scale * sober[i]!,
    }))
    .filter((reading, i) => i === 0 || (i < TOLD && reading.odds >= UNLIKELY));
}
