import type { Correction } from '../../lib/core/song/evidence.ts';
import { SAID } from '../../lib/core/song/evidence.ts';
import { recordTime, wholeMicros } from '../../lib/core/units.ts';

/**
 * Hands that are simulated: each mark 30 ms off by chance (normally; people who tap along vary by 10 to 40 ms, Repp 2005), and all of
 * one hand's late by one delay of up to 150 ms (what wireless sound and a touch screen add; as the issue asks).
 */
export interface Hand {
  random(): number;
  /** Seconds by which all its marks are late. */
  late: number;
}

const JITTER = 0.03;
const LATEST = 0.15;

export const handOf = (random: () => number): Hand => ({ random, late: LATEST * random() });

/** Two evenly drawn numbers as a normal one (Box and Muller 1958). */
const normal = (random: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

/** When a hand marks what sounds at a moment. */
export const marked = ({ random, late }: Hand, at: number): number =>
  wholeMicros(Math.max(0, at + late + JITTER * normal(random)));

/** Eight taps from a bar line on. */
export function taps(hand: Hand, beats: readonly number[], from: number, count = 8): Correction {
  const times = beats.slice(from, from + count).map((t) => marked(hand, t));
  const ascending = times.sort((a, b) => a - b).filter((t, i, all) => i === 0 || t > all[i - 1]!);
  return { ...SAID, kind: 'beats', times: ascending.map(recordTime), fromOne: true, byHand: true };
}

/** One "a bar starts here". */
export const oneBar = (hand: Hand, at: number): Correction => ({
  ...SAID,
  kind: 'bars',
  times: [recordTime(marked(hand, at))],
  byHand: true,
});
