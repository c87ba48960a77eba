import type { NetInput } from './input.ts';
import { METRES, type NetAnswer, runNet } from './run.ts';

/** What the learned ear says of a song, as the tracking weighs it. Log odds lie between -SUREST and SUREST. */
export interface NetCurves {
  /** Frames a second; frame i stands at i / rate seconds of record time. */
  rate: number;
  /** Log odds of a beat, and of a bar's first beat. */
  beat: Float32Array;
  bar: Float32Array;
  /** Log odds of a section's start, one value for two frames. */
  section: Float32Array;
  /** Log odds, over the whole song, that beats are in three parts. */
  three: number;
  /** Log shares of the metres in which the song may be, by beats a bar and parts of a beat: `4/3` is 12/8. */
  metre: Record<(typeof METRES)[number], number>;
}

const SUREST = 6;
const bounded = (x: number): number => Math.max(-SUREST, Math.min(SUREST, x));

/** @param report called with the share done, 0 to 1 */
export const netCurves = (input: NetInput, report?: (share: number) => void): NetCurves =>
  curvesOf(runNet(input, report), input.rate);

function curvesOf({ steps, heads, metre }: NetAnswer, stepRate: number): NetCurves {
  const at = (s: number, head: number): number => bounded(heads[6 * s + head]!);
  const frames = (head: number): Float32Array =>
    Float32Array.from({ length: 2 * steps }, (_, i) => at(i >> 1, head + (i & 1)));
  let three = 0;
  for (let s = 0; s < steps; s++) three += at(s, 5) / Math.max(1, steps);
  const top = Math.max(...metre);
  const whole = top + Math.log(metre.reduce((sum, x) => sum + Math.exp(x - top), 0));
  const shares = Object.fromEntries(METRES.map((name, i) => [name, bounded(metre[i]! - whole)]));
  return {
    rate: 2 * stepRate,
    beat: frames(0),
    bar: frames(2),
    section: Float32Array.from({ length: steps }, (_, s) => at(s, 4)),
    three,
    metre: shares as NetCurves['metre'],
  };
}

/** The highest of a curve within a frame of a moment. */
export function crestAt(curve: Float32Array, rate: number, at: number): number {
  const i = Math.round(at * rate);
  return Math.max(curve[i - 1] ?? -SUREST, curve[i] ?? -SUREST, curve[i + 1] ?? -SUREST);
}
