import { type BarView, unevenness } from './bars.ts';
import { cutEvidence } from './cuts.ts';
import { diagonal, heardAgain, type Repetition } from './repetition.ts';

/**
 * Log of how usual a length in bars is. After the counts of the Harmonix Set (Nieto et al. 2019): eight commonest, then four and
 * sixteen; six in ten sections are multiples of four. The exact figures are ours.
 */
function usual(bars: number): number {
  if (bars === 8) return 0;
  if (bars === 16 || bars === 4) return -0.5;
  if (bars === 12) return -1.6;
  if (bars % 4 === 0) return -2.2;
  if (bars % 2 === 0) return bars === 2 ? -4 : -2;
  return bars === 1 ? -4 : -3.2;
}

export const LONGEST = 32;
/** Bars after which most music begins again, and up to how many bars being heard again as a whole tells more. */
const LOOP = 4;
const WHOLE = 16;

/**
 * Log odds of a cut: where they start from, and what each curve of `cutEvidence` and each value of `stretchEvidence` adds. Greatest
 * likelihood of the cuts of some 300 songs of three unlike programs; not universal truths: real songs would move them.
 */
const START = -2.52;
const CUT = [0.43, 0.57, 0.85, 0.28, 0.99, 0.85, -0.21, 0.46, 0.43, 0.2, 0.95, 0.19, 0.34, -1.22];
const STRETCH = [1.67, 2.24, 0.94, -2.23];

/** Starts of sections, in bars, the first 0, and how likely each bar line is one, 0 to 1. */
export interface Segments {
  starts: number[];
  likely: Float64Array;
}

/**
 * The likeliest cutting of the song into sections, in a semi-Markov conditional random field (Sarawagi and Cohen 2004): the sum of log odds
 * at the cuts and over the stretches between them. And over all cuttings, the share in which each line is cut at.
 */
export function segmentsOf(view: BarView, repetition: Repetition): Segments {
  const { count } = view;
  if (count < 2 * LOOP) return { starts: [0], likely: new Float64Array(count + 1) };
  const cut = new Float64Array(count + 1).fill(START);
  cutEvidence(view, repetition).forEach((curve, n) => {
    for (let i = 0; i <= count; i++) cut[i]! += CUT[n]! * curve[i]!;
  });
  const evidence = stretchEvidence(view, repetition);
  return likeliest(count, (from, to) =>
    evidence(from, to).reduce((sum, x, n) => sum + STRETCH[n]! * x, to === count ? 0 : cut[to]!),
  );
}

/**
 * Evidence about the bars from `from` up to `to` as one section: how usual the length is, how much of it is heard again as a whole, how much
 * of it begins again after four bars, and how far its bars' timbre strays.
 */
export function stretchEvidence(
  view: BarView,
  repetition: Repetition,
): (from: number, to: number) => number[] {
  const again = heardAgain(repetition, LONGEST);
  const loops = diagonal(repetition, LOOP);
  const uneven = unevenness(view, LONGEST);
  return (from, to) => {
    const bars = to - from;
    const whole = Math.max(0, 2 * again(from, to) - 1) * Math.min(WHOLE, bars);
    const looped = bars > LOOP ? loops[to - LOOP]! - loops[from]! - (bars - LOOP) / 2 : 0;
    return [usual(bars), whole / 8, looped / 8, uneven(from, to) / 8];
  };
}

/** The cutting with the best sum of `worthOf` its stretches, and how likely each cut is by forward and backward sums over all cuttings. */
export function likeliest(count: number, worthOf: (from: number, to: number) => number): Segments {
  const width = LONGEST + 1;
  const worths = new Float64Array(count * width);
  const best = new Float64Array(count + 1).fill(Number.NEGATIVE_INFINITY);
  const forward = best.slice();
  const backward = best.slice();
  const from = new Int32Array(count + 1);
  best[0] = 0;
  forward[0] = 0;
  for (let end = 1; end <= count; end++) {
    for (let start = Math.max(0, end - LONGEST); start < end; start++) {
      const worth = worthOf(start, end);
      worths[width * start + end - start] = worth;
      forward[end] = logSum(forward[end]!, forward[start]! + worth);
      if (best[start]! + worth <= best[end]!) continue;
      best[end] = best[start]! + worth;
      from[end] = start;
    }
  }
  backward[count] = 0;
  for (let start = count - 1; start >= 0; start--) {
    for (let end = start + 1; end <= Math.min(count, start + LONGEST); end++) {
      backward[start] = logSum(backward[start]!, backward[end]! + worths[width * start + end - start]!);
    }
  }
  const starts: number[] = [];
  for (let at = count; at > 0; at = from[at]!) starts.unshift(from[at]!);
  return { starts, likely: forward.map((f, i) => Math.exp(f + backward[i]! - forward[count]!)) };
}

/** log(e^a + e^b). */
function logSum(a: number, b: number): number {
  const top = Math.max(a, b);
  return top === Number.NEGATIVE_INFINITY ? top : top + Math.log1p(Math.exp(-Math.abs(a - b)));
}
