import { quantile } from '../signal/statistics.ts';
import { type BarView, harmonyLikeness } from './bars.ts';

/** How alike bars are on the song's own scale: 0 for bars taken at random, 1 for bars that are heard again. */
export interface Repetition {
  count: number;
  /** Row by row, count x count. */
  alike: Float64Array;
  /** The song's own scale for any likeness, say of transposed bars. */
  scale: (likeness: number) => number;
}

/** Bars nearer than this are often alike without being a repetition. */
const APART = 4;
/** What is alike by no more than this share of the way from random bars to repeated ones is not alike. */
const CHANCE = 0.35;
/** Some songs stay on one chord, and there is nothing to stretch the scale over. */
const NARROWEST = 0.15;

/** Bars against bars: the scale runs from the median likeness to that of most bars' best partner, so that no sound or key sets it. */
export function repetitionOf(view: BarView): Repetition {
  const { count } = view;
  const alike = new Float64Array(count * count);
  const all: number[] = [];
  const best = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    for (let j = i; j < count; j++) {
      const likeness = harmonyLikeness(view, i, j);
      alike[count * i + j] = likeness;
      alike[count * j + i] = likeness;
      if (j - i < APART) continue;
      all.push(likeness);
      best[i] = Math.max(best[i]!, likeness);
      best[j] = Math.max(best[j]!, likeness);
    }
  }
  const repeated = quantile(best, 0.75);
  const span = Math.max(NARROWEST, repeated - quantile(all, 0.5));
  const random = repeated - span;
  const scale = (likeness: number): number =>
    Math.min(1, Math.max(0, (likeness - random - CHANCE * span) / ((1 - CHANCE) * span)));
  return { count, alike: alike.map(scale), scale };
}

/** Bars on either side of a line that say whether a passage goes on there. */
const REACH = 4;
/** A repetition that changes by less than this at a line neither ends nor begins there. */
const STEADY = 0.3;

/**
 * Ends of repetition, a value a bar line: for every distance between bars, the likeness of four bars before a line against four after it.
 * Where a passage that is heard elsewhere begins or ends, one is like its partner and the other is not (after Serra et al. 2012).
 */
export function repetitionEnds({ count, alike }: Repetition): Float64Array {
  const out = new Float64Array(count + 1);
  for (let lag = 2; lag < count; lag++) {
    const sums = diagonal({ count, alike }, lag);
    for (let i = REACH; i + REACH < sums.length; i++) {
      const before = (sums[i]! - sums[i - REACH]!) / REACH;
      const after = (sums[i + REACH]! - sums[i]!) / REACH;
      const jump = Math.max(0, Math.abs(after - before) - STEADY);
      out[i]! += jump;
      out[i + lag]! += jump;
    }
  }
  return out;
}

/** Running sums of the likeness of bars `lag` apart. */
export function diagonal({ count, alike }: Pick<Repetition, 'count' | 'alike'>, lag: number): Float64Array {
  const sums = new Float64Array(count - lag + 1);
  for (let i = 0; i + lag < count; i++) sums[i + 1] = sums[i]! + alike[count * i + i + lag]!;
  return sums;
}

/** How much the lines of other renderings count beside a line's own. */
const SHARED = 0.15;
/** Less likeness than this on either side, and it is another place. */
const PLACE = 0.3;

/** Evidence at bar lines, each averaged with lines before and after which the same music is heard: what opens one verse opens all. */
export function sharedAmong({ count, alike }: Repetition, evidence: Float64Array): Float64Array {
  const sum = evidence.slice();
  const weight = new Float64Array(evidence.length).fill(1);
  for (let lag = 1; lag < count; lag++) {
    const sums = diagonal({ count, alike }, lag);
    for (let i = REACH; i + REACH < sums.length; i++) {
      const before = (sums[i]! - sums[i - REACH]!) / REACH;
      const after = (sums[i + REACH]! - sums[i]!) / REACH;
      const same = Math.min(before, after);
      if (same <= PLACE) continue;
      sum[i]! += SHARED * same * evidence[i + lag]!;
      sum[i + lag]! += SHARED * same * evidence[i]!;
      weight[i]! += SHARED * same;
      weight[i + lag]! += SHARED * same;
    }
  }
  return sum.map((value, i) => value / weight[i]!);
}

/** Bars from which on, or up to which, music is heard again. */
const ECHO = 8;

/**
 * The strongest evidence at other lines after which (`side` 1) or before which (`side` -1) the same eight bars are heard: where one
 * verse begins, all begin, whatever comes before them.
 */
export function echoed({ count, alike }: Repetition, evidence: Float64Array, side: 1 | -1): Float64Array {
  const out = new Float64Array(evidence.length);
  for (let lag = ECHO; lag < count; lag++) {
    const sums = diagonal({ count, alike }, lag);
    for (let i = 0; i + ECHO < sums.length; i++) {
      const same = Math.max(0, (2 * (sums[i + ECHO]! - sums[i]!)) / ECHO - 1);
      const line = side === 1 ? i : i + ECHO;
      out[line] = Math.max(out[line]!, same * evidence[line + lag]!);
      out[line + lag] = Math.max(out[line + lag]!, same * evidence[line]!);
    }
  }
  return out;
}

/** How well each run of bars is heard again elsewhere as a whole, 0 to 1: `best[count * from + length]` for lengths up to `longest`. */
export function heardAgain(
  { count, alike }: Repetition,
  longest: number,
): (from: number, to: number) => number {
  const width = longest + 1;
  const best = new Float64Array(count * width);
  for (let lag = 2; lag < count; lag++) {
    const sums = diagonal({ count, alike }, lag);
    for (let length = 2; length <= Math.min(longest, lag); length++) {
      for (let from = 0; from + length < sums.length; from++) {
        const value = (sums[from + length]! - sums[from]!) / length;
        for (const at of [from, from + lag]) {
          if (value > best[width * at + length]!) best[width * at + length] = value;
        }
      }
    }
  }
  return (from, to) => best[width * from + to - from]!;
}
