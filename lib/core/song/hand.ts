import { nearest } from './stretches.ts';

/**
 * How a hand marks what it hears: each time off by chance, all of them late by as much as the device's sound and the hand are. A hand
 * that taps along is a few tens of ms early, and varies by 10 to 40 ms (Repp 2005); a touch screen with wireless sound is late by
 * 100 to 200.
 */
const SPREAD = 0.03;
const LATE = { usual: 0.04, spread: 0.08, least: -0.08, most: 0.2, step: 0.01 };
/** Chance of a time that means nothing is even over so many seconds. */
const ANYWHERE = 0.5;

export interface HandFit {
  /** Seconds by which the hand is late. */
  late: number;
  /** Natural log of how likely the times are, if these moments were meant. */
  likely: number;
}

/**
 * How well marked times fit moments that may have been meant, and how late they are: the most likely constant delay, each time
 * normally spread about the nearest moment or, with what the person is not sure of, anywhere.
 * @param times seconds @param moments ascending seconds @param sure chance that a time is meant at all, 0 to 1
 * @param byHand false of times that were chosen and not pressed
 */
export function handFit(
  times: readonly number[],
  moments: readonly number[],
  sure: number,
  byHand: boolean,
): HandFit {
  if (times.length === 0) return { late: 0, likely: 0 };
  if (moments.length === 0) return { late: 0, likely: times.length * Math.log((1 - sure) / ANYWHERE + 1e-9) };
  let best: HandFit = { late: 0, likely: Number.NEGATIVE_INFINITY };
  const { least, most, step } = byHand ? LATE : { least: 0, most: 0, step: 1 };
  for (let late = least; late <= most + 1e-9; late += step) {
    let likely = byHand ? lateness(late) : 0;
    for (const t of times) likely += markOdds(t - late - moments[nearest(moments, t - late)]!, sure);
    if (likely > best.likely) best = { late, likely };
  }
  return best;
}

/** Natural log of how likely a hand is to be so late, but for a constant. */
export const lateness = (late: number): number => -(((late - LATE.usual) / LATE.spread) ** 2) / 2;

const markOdds = (off: number, sure: number): number =>
  Math.log(
    (sure * Math.exp(-((off / SPREAD) ** 2) / 2)) / (SPREAD * Math.sqrt(2 * Math.PI)) + (1 - sure) / ANYWHERE,
  );

/**
 * Delays of a hand at which its times meet most activation: the places of the highest peaks, 50 ms or more apart, at most `most` of
 * them; nothing heard there gives the hand's word as it is.
 * @param value activation at a moment, 0 to 1
 */
export function delaysOf(times: readonly number[], value: (at: number) => number, most = 3): number[] {
  const found: { late: number; height: number }[] = [];
  for (let late = LATE.least; late <= LATE.most + 1e-9; late += 0.005) {
    let height = 0;
    for (const t of times) {
      // Spread by what the hand varies by.
      for (let k = -2; k <= 2; k++) height += value(t - late + k * 0.012) * Math.exp(-((k * 0.4) ** 2) / 2);
    }
    found.push({ late, height: height / times.length + 0.1 * lateness(late) });
  }
  if (Math.max(...times.map((t) => value(t)), ...found.map(({ height }) => height)) < 0.05) return [0];
  found.sort((a, b) => b.height - a.height);
  const kept: number[] = [];
  for (const { late } of found) {
    if (kept.length === most) break;
    if (kept.every((other) => Math.abs(other - late) >= 0.05)) kept.push(late);
  }
  return kept;
}
