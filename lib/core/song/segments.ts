import { deviation, mean } from '../signal/statistics.ts';
import { type BarView, harmonyLikeness, timbreDistance } from './bars.ts';

/**
 * Log of how usual a length in bars is. After the counts of the Harmonix Set (Nieto et al. 2019): eight commonest, then four and
 * sixteen; six in ten sections are multiples of four. The exact figures are ours.
 */
function usual(bars: number): number {
  if (bars === 8) return 0;
  if (bars === 16 || bars === 4) return -0.6;
  if (bars === 12) return -1.6;
  if (bars % 4 === 0) return -2.2;
  if (bars % 2 === 0) return bars === 2 ? -4 : -2;
  return bars === 1 ? -4 : -3.2;
}

const LONGEST = 32;
const COST = 1.1;
/** How much timbre over one, two and four bars, harmony, and ends of repetition say about a cut; tried on rendered songs. */
const WEIGHTS = [0.45, 0.25, 0.25, 0.7, 0.2];
/** Where the four bars after a line differ by less than this from the four before, a loop goes on, and its repetition is no end of anything. */
const LOOP = 0.15;

/** Starts of the sections, in bars, the first 0: the cutting with the best sum of novelty at the cuts and usual lengths. */
export function segmentsOf(view: BarView): { starts: number[]; strength: Float64Array } {
  const strength = boundaryStrength(view);
  const best = new Float64Array(view.count + 1).fill(Number.NEGATIVE_INFINITY);
  const from = new Int32Array(view.count + 1);
  best[0] = 0;
  for (let end = 1; end <= view.count; end++) {
    for (let start = Math.max(0, end - LONGEST); start < end; start++) {
      const length = end - start;
      const gain = end === view.count ? 0 : strength[end]! - COST;
      const score = best[start]! + usual(length) + gain;
      if (score > best[end]!) {
        best[end] = score;
        from[end] = start;
      }
    }
  }
  const starts: number[] = [];
  for (let at = view.count; at > 0; at = from[at]!) starts.unshift(from[at]!);
  return { starts, strength };
}

/** How much like a section change each bar line is: change of timbre, change of harmony, and repetition that ends or begins there; in deviations. */
function boundaryStrength(view: BarView): Float64Array {
  const out = new Float64Array(view.count + 1);
  noveltyCurves(view).forEach((curve, n) => {
    for (let i = 0; i < out.length; i++) out[i]! += WEIGHTS[n]! * curve[i]!;
  });
  return out;
}

/** The kinds of evidence for a cut at each bar line, each with mean 0 and deviation 1 over the song. */
function noveltyCurves(view: BarView): Float64Array[] {
  const harmony = harmonyNovelty(view);
  const repetition = repetitionNovelty(view).map((value, i) => value * Math.min(1, harmony[i]! / LOOP));
  return [timbreNovelty(view, 1), timbreNovelty(view, 2), timbreNovelty(view, 4), harmony, repetition].map(
    standard,
  );
}

function standard(curve: Float64Array): Float64Array {
  const [middle, spread] = [mean(curve), deviation(curve) + 1e-6];
  return curve.map((value) => (value - middle) / spread);
}

function timbreNovelty(view: BarView, reach: number): Float64Array {
  return Float64Array.from({ length: view.count + 1 }, (_, i) => {
    if (i < 1 || i >= view.count) return 0;
    return timbreDistance(view, [Math.max(0, i - reach), i], [i, Math.min(view.count, i + reach)]);
  });
}

/** Harmony of the four bars after against the four before, bar by bar: a section often repeats its four bars, a new one brings others. */
function harmonyNovelty(view: BarView): Float64Array {
  return Float64Array.from({ length: view.count + 1 }, (_, i) => {
    if (i < 4 || i + 4 > view.count) return 0;
    let same = 0;
    for (let k = 0; k < 4; k++) same += harmonyLikeness(view, i - 4 + k, i + k) / 4;
    return 1 - same;
  });
}

/**
 * Ends of repetition: for every distance between bars, the likeness of four bars before a line against four after it. Where a passage
 * that was heard elsewhere begins or ends, one is like its partner and the other is not (after Serrà et al. 2012).
 */
function repetitionNovelty(view: BarView): Float64Array {
  const out = new Float64Array(view.count + 1);
  const reach = 4;
  for (let lag = reach; lag < view.count; lag++) {
    const sums = new Float64Array(view.count - lag + 1);
    for (let i = 0; i + lag < view.count; i++)
      sums[i + 1] = sums[i]! + sharpened(harmonyLikeness(view, i, i + lag));
    for (let i = reach; i + reach < sums.length; i++) {
      const before = (sums[i]! - sums[i - reach]!) / reach;
      const after = (sums[i + reach]! - sums[i]!) / reach;
      const jump = Math.max(0, Math.abs(after - before) - 0.3);
      out[i]! += jump;
      out[i + lag]! += jump;
    }
  }
  return out;
}

/** Only real likeness counts as repetition. */
const sharpened = (likeness: number): number => Math.min(1, Math.max(0, (likeness - 0.75) / 0.2));
