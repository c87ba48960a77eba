import type { Frames } from './frames.ts';

/** Sound before and after is compared over so many seconds. */
const REACH = 5;
/** No other turn so near. Seconds. */
const APART = 3;
const BANDS = 6;

/** A moment from which the song sounds otherwise: another section, a drummer who enters. */
export interface Turn {
  /** Seconds of record time. */
  at: number;
  /** How otherwise; only to be compared with other turns of the song. */
  strength: number;
}

/** Moments where loudness and colour change most, after Foote 2000 in spirit: what follows against what went before. */
export function turnsOf(frames: Frames): Turn[] {
  const { bands, toneRate } = frames;
  const count = bands.length / BANDS;
  const sums = new Float64Array((count + 1) * BANDS);
  for (let i = 0; i < bands.length; i++) sums[i + BANDS] = sums[i]! + Math.max(bands[i]!, -8);
  const reach = Math.round(REACH * toneRate);
  const change = new Float64Array(count);
  for (let i = reach; i + reach <= count; i++) {
    let sum = 0;
    for (let b = 0; b < BANDS; b++) {
      const after = sums[(i + reach) * BANDS + b]! - sums[i * BANDS + b]!;
      const before = sums[i * BANDS + b]! - sums[(i - reach) * BANDS + b]!;
      sum += ((after - before) / reach) ** 2;
    }
    change[i] = Math.sqrt(sum);
  }
  const apart = Math.round(APART * toneRate);
  const turns: Turn[] = [];
  for (let i = reach; i + reach <= count; i++) {
    let highest = true;
    for (let d = 1; d <= apart && highest; d++) {
      if (change[i - d]! > change[i]! || (change[i + d] ?? 0) >= change[i]!) highest = false;
    }
    // Frame i is the first that belongs to what follows.
    if (highest) turns.push({ at: i / toneRate, strength: change[i]! });
  }
  return turns;
}
