import type { Frames } from './frames.ts';
import { harmonyChanges, runningSums } from './harmony.ts';

/** How likely a beat, and a bar line, is at each moment: frame i is `i / rate` seconds of record time; values 0 to 1. */
export interface Activations {
  rate: number;
  beat: Float32Array;
  bar: Float32Array;
}

/** An onset of so many of the song's deviations is half as likely a beat as can be. */
const HALF = 1.5;
/** Seconds of harmony before and after a moment that are compared. */
const REACH = 0.6;

/**
 * From the onsets (spectral flux) and, for bar lines, the change of harmony and the bass at an onset. The curves say where something
 * happens, not what metre it is in.
 */
export function activationsFrom(frames: Frames): Activations {
  const { onset, low, onsetRate, toneRate } = frames;
  const change = harmonyChanges(
    { chroma: runningSums(frames.chroma), bass: runningSums(frames.bass) },
    toneRate,
  );
  const beat = onset.map((x) => x / (x + HALF));
  const bar = beat.map((x, i) =>
    x < 0.1 ? 0 : (x * (change(i / onsetRate, REACH) + low[i]! / (low[i]! + HALF))) / 2,
  );
  return { rate: onsetRate, beat, bar };
}
