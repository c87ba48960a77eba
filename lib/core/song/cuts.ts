import { deviation, mean } from '../signal/statistics.ts';
import { type BarView, harmonyLikeness, rhythmDistance, timbreDistance } from './bars.ts';
import { echoed, type Repetition, repetitionEnds, sharedAmong } from './repetition.ts';

/** A curve over bar lines 0 to count. */
type Curve = Float64Array;

/** Kinds of evidence that a section begins at a bar line, and the spread of each below which nothing changes and what is left is noise. */
const CURVES: readonly { nothing: number; of: (view: BarView, repetition: Repetition) => Curve }[] = [
  { nothing: 0.3, of: (view) => timbreNovelty(view, 1) },
  { nothing: 0.25, of: (view) => timbreNovelty(view, 2) },
  { nothing: 0.2, of: (view) => timbreNovelty(view, 4) },
  { nothing: 0.05, of: harmonyNovelty },
  { nothing: 0.3, of: (_, repetition) => repetitionEnds(repetition) },
  { nothing: 0.1, of: rhythmNovelty },
  { nothing: 0.1, of: fills },
  { nothing: 1, of: levelRise },
  { nothing: 0.1, of: (view, repetition) => loopEnds(view, repetition, 4) },
  { nothing: 0.1, of: (view, repetition) => loopStarts(view, repetition, 4) },
  { nothing: 0.1, of: (view, repetition) => loopEnds(view, repetition, 8) },
  { nothing: 0.1, of: (view, repetition) => loopStarts(view, repetition, 8) },
];

/** How the curves make up the evidence that other lines share; about their weights in the end. */
const ROUGHLY = [0.4, 0.5, 0.8, 0.3, 0.9, 0.8, -0.2, 0.5, 0.4, 0.2, 1, 0.3];
const MOST = 5;

/**
 * Evidence at each bar line in deviations over the song, a curve a kind, each averaged with lines at which the same music is heard;
 * and last, the strongest evidence among lines that the same bars follow, and among those that they precede.
 */
export function cutEvidence(view: BarView, repetition: Repetition): Curve[] {
  const curves = CURVES.map(({ nothing, of }) =>
    sharedAmong(repetition, standard(of(view, repetition), nothing)),
  );
  const all = lines(view.count, (i) => {
    const sum = curves.reduce((s, curve, n) => s + ROUGHLY[n]! * curve[i]!, 0);
    return Math.max(0, Math.min(MOST, sum - 1)) / MOST;
  });
  return [...curves, echoed(repetition, all, 1), echoed(repetition, all, -1)];
}

/** In deviations over the song, its two outermost lines left out, none so far that one line outweighs all else. */
function standard(curve: Curve, nothing: number): Curve {
  const inner = curve.subarray(2, -2);
  if (inner.length === 0) return curve.map(() => 0);
  const [middle, spread] = [mean(inner), Math.max(nothing, deviation(inner))];
  return curve.map((value) => Math.max(-3, Math.min(4, (value - middle) / spread)));
}

const lines = (count: number, at: (line: number) => number): Curve =>
  Float64Array.from({ length: count + 1 }, (_, i) => at(i));

function timbreNovelty(view: BarView, reach: number): Curve {
  return lines(view.count, (i) => {
    if (i < 1 || i >= view.count) return 0;
    return timbreDistance(view, [Math.max(0, i - reach), i], [i, Math.min(view.count, i + reach)]);
  });
}

function rhythmNovelty(view: BarView): Curve {
  return lines(view.count, (i) => {
    if (i < 1 || i >= view.count) return 0;
    return rhythmDistance(view, [i - 1, i], [i, i + 1]);
  });
}

/** The bar before a line, unlike the bars before it. */
function fills(view: BarView): Curve {
  return lines(view.count, (i) => (i < 4 ? 0 : rhythmDistance(view, [i - 1, i], [i - 4, i - 1])));
}

function levelRise(view: BarView): Curve {
  return lines(view.count, (i) => {
    if (i < 2 || i + 2 > view.count) return 0;
    return (view.level[i]! + view.level[i + 1]! - view.level[i - 1]! - view.level[i - 2]!) / 2;
  });
}

/** Harmony of the four bars after against the four before, bar by bar: a section often repeats its four bars, a new one brings others. */
function harmonyNovelty(view: BarView): Curve {
  return lines(view.count, (i) => {
    if (i < 4 || i + 4 > view.count) return 0;
    let same = 0;
    for (let k = 0; k < 4; k++) same += harmonyLikeness(view, i - 4 + k, i + k) / 4;
    return 1 - same;
  });
}

/** Mean likeness of up to `lag` bars from `from` with those `lag` bars later. */
function looped({ count, alike }: Repetition, from: number, lag: number): number {
  let [sum, n] = [0, 0];
  for (let k = 0; k < lag; k++) {
    const [a, b] = [from + k, from + k + lag];
    if (a < 0 || b >= count) continue;
    sum += alike[count * a + b]!;
    n++;
  }
  return n === 0 ? 0.5 : sum / n;
}

/** Bars before a line repeat those before them, bars after it do not. */
const loopEnds = ({ count }: BarView, repetition: Repetition, lag: number): Curve =>
  lines(count, (i) => looped(repetition, i - 2 * lag, lag) - looped(repetition, i - lag, lag));

/** Bars after a line are repeated by those after them, bars before it are not. */
const loopStarts = ({ count }: BarView, repetition: Repetition, lag: number): Curve =>
  lines(count, (i) => looped(repetition, i, lag) - looped(repetition, i - lag, lag));
