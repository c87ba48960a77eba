import { mean } from '../signal/statistics.ts';
import type { Frames } from './frames.ts';
import type { HarmonyChange } from './harmony.ts';
import { between } from './pulse.ts';

/** Values at each beat of one pulse, from which every metre upon it is judged. */
export interface PulseView {
  period: number;
  onset: Float64Array;
  low: Float64Array;
  high: Float64Array;
  harmony: Float64Array;
  wide: Float64Array;
  /** Share of the beats that are clearly divided in three, less those clearly in two. */
  threes: number;
  /** Mean onset at halves, thirds and quarters of the beats. */
  half: number;
  thirds: number;
  quarters: number;
  lowHalf: number;
  lowThirds: number;
  harmonyHalf: number;
  harmonyThirds: number;
  covered: number;
}

/** The largest value within 35 ms of a moment. */
function near(curve: Float32Array, rate: number, at: number): number {
  const centre = Math.round(at * rate);
  const reach = Math.max(1, Math.round(0.035 * rate));
  let best = 0;
  for (let i = centre - reach; i <= centre + reach; i++) best = Math.max(best, curve[i] ?? 0);
  return Math.min(best, 6);
}

/** Looks along one chain of beats; `beats` ascending seconds, at least two. */
export function viewOf(frames: Frames, change: HarmonyChange, beats: number[]): PulseView {
  const period = (beats.at(-1)! - beats[0]!) / Math.max(1, beats.length - 1);
  const at = (curve: Float32Array, times: number[]): Float64Array =>
    Float64Array.from(times, (t) => near(curve, frames.onsetRate, t));
  const halves = between(beats, 1 / 2);
  const thirds = [...between(beats, 1 / 3), ...between(beats, 2 / 3)];
  const quarters = [...between(beats, 1 / 4), ...between(beats, 3 / 4)];
  const reach = Math.min(0.6, Math.max(0.25, period));
  const harmonyAt = (times: number[], r: number): Float64Array =>
    Float64Array.from(times, (t) => change(t, r));
  const onset = at(frames.onset, beats);
  const second = at(frames.onset, halves);
  const third = at(frames.onset, between(beats, 1 / 3));
  const last = at(frames.onset, between(beats, 2 / 3));
  let threes = 0;
  for (let i = 0; i < second.length; i++) {
    const lead = Math.max(third[i]!, last[i]!) - second[i]!;
    if (Math.abs(lead) > 0.3) threes += Math.sign(lead) / second.length;
  }
  const typical = mean(onset);
  return {
    period,
    onset,
    low: at(frames.low, beats),
    high: at(frames.high, beats),
    harmony: harmonyAt(beats, reach),
    wide: harmonyAt(beats, Math.min(2, 2 * period + 0.2)),
    threes,
    half: mean(second),
    thirds: (mean(third) + mean(last)) / 2,
    quarters: mean(at(frames.onset, quarters)),
    lowHalf: mean(at(frames.low, halves)),
    lowThirds: mean(at(frames.low, thirds)),
    harmonyHalf: mean(harmonyAt(halves, reach)),
    harmonyThirds: mean(harmonyAt(thirds, reach)),
    covered: onset.filter((x) => x > 0.4 * typical).length / onset.length,
  };
}
