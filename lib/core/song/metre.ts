import type { Frames } from './frames.ts';
import { type HarmonyChange, harmonyChanges } from './harmony.ts';
import { type Hypothesis, hypothesesOn } from './hypothesis.ts';
import { eventF } from './metrics.ts';
import { between, periodsOf, track } from './pulse.ts';
import { weigh } from './weights.ts';

/** A chain of possible beats, and which subdivisions its phase is worth asking about. */
export interface Pulse {
  beats: number[];
  divisions: readonly (2 | 3)[];
}

/** Every period's best chain, and the chains that lie half and a third of a beat beside it. */
export function pulsesOf(frames: Frames): Pulse[] {
  return periodsOf(frames).flatMap((period) => {
    const beats = track(frames, period);
    if (beats.length < 8) return [];
    return [
      { beats, divisions: [2, 3] as const },
      { beats: between(beats, 1 / 2), divisions: [2] as const },
      { beats: between(beats, 1 / 3), divisions: [3] as const },
      { beats: between(beats, 2 / 3), divisions: [3] as const },
    ];
  });
}

export function hypothesesOf(
  frames: Frames,
  pulses: Pulse[],
  change: HarmonyChange = harmonyChanges(frames),
): Hypothesis[] {
  return pulses.flatMap(({ beats, divisions }, i) => hypothesesOn(frames, change, beats, i, divisions));
}

/** The way the song is best heard, and how sure that is, 0 to 1. */
export interface HeardMetre {
  beats: number[];
  beatsPerBar: 2 | 3 | 4;
  subdivision: 2 | 3;
  firstBar: number;
  confidence: { beats: number; metre: number; bars: number };
}

/**
 * How far the scores are trusted between bars where beats go in threes: there, two beats a bar and four often sound alike. Over 31 songs
 * heard so, the mean confidence is .69 with it where .71 were right, .80 without.
 */
const TRUST_IN_THREES = 0.75;

/** Two chains are one when this share of their events meet within 70 ms. */
const SAME = 0.85;

/** The hypothesis that the evidence supports most; confidences add up all hypotheses that agree with it in that respect. */
export function hearMetre(frames: Frames): HeardMetre | undefined {
  const pulses = pulsesOf(frames);
  const hypotheses = hypothesesOf(frames, pulses);
  const scores = hypotheses.map(({ evidence }) => weigh(evidence));
  const top = Math.max(...scores);
  const best = hypotheses[scores.indexOf(top)];
  if (!best) return undefined;
  const likely = scores.map((score) => Math.exp(score - top));
  const barsOf = (h: Hypothesis): number[] =>
    pulses[h.pulse]!.beats.filter((_, i) => i % h.beatsPerBar === h.firstBar);
  const beats = pulses[best.pulse]!.beats;
  const bars = barsOf(best);
  const samePulse = pulses.map((pulse) => eventF(beats, pulse.beats, 0.07) >= SAME);
  const share = (weights: number[], agrees: (h: Hypothesis, i: number) => boolean): number =>
    hypotheses.reduce((s, h, i) => s + (agrees(h, i) ? weights[i]! : 0), 0) /
    weights.reduce((total, w) => total + w, 0);
  const ofBars = best.subdivision === 3 ? likely.map((p) => p ** TRUST_IN_THREES) : likely;
  return {
    beats,
    beatsPerBar: best.beatsPerBar,
    subdivision: best.subdivision,
    firstBar: best.firstBar,
    confidence: {
      beats: share(likely, (h) => samePulse[h.pulse]!),
      metre: share(ofBars, (h) => h.beatsPerBar === best.beatsPerBar && h.subdivision === best.subdivision),
      bars: share(ofBars, (h, i) => likely[i]! > 1e-4 && eventF(bars, barsOf(h), 0.07) >= SAME),
    },
  };
}
