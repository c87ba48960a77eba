import type { Samples } from '../signal/samples.ts';

/** Gains of what ends and what begins. */
export interface Gains {
  out: number;
  in: number;
}

/**
 * Gains at share t of a crossfade, 0 to 1, that keep the power even for two sounds of the given correlation: equal power
 * (-3.01 dB each in the middle) for unlike sounds, correlation 0; equal gain (-6.02 dB) for the same sound, 1.
 */
export function crossfadeGains(t: number, correlation: number): Gains {
  const power = (1 - t) * (1 - t) + t * t + 2 * correlation * t * (1 - t);
  const scale = 1 / Math.sqrt(power);
  return { out: (1 - t) * scale, in: t * scale };
}

/**
 * How alike the `length` samples before two places are over all channels: 0 (unlike, or opposed) to 1 (the same but for
 * their level).
 */
export function likeness(samples: Samples, from: number, to: number, length: number): number {
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (const channel of samples.channels) {
    for (let i = -length; i < 0; i++) {
      const a = channel[from + i] ?? 0;
      const b = channel[to + i] ?? 0;
      ab += a * b;
      aa += a * a;
      bb += b * b;
    }
  }
  if (aa === 0 || bb === 0) return 0;
  return Math.max(0, Math.min(1, ab / Math.sqrt(aa * bb)));
}
