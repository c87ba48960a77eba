import { mean } from '../signal/statistics.ts';
import { type Bars, type BarView, harmonyLikeness, rhythmDistance, timbreDistance } from './bars.ts';
import type { Repetition } from './repetition.ts';

/** What a change of key between two renderings takes off their likeness, and the most semitones that are tried. */
const OTHER_KEY = 0.03;
const FARTHEST_KEY = 3;
/**
 * Log odds that two spans are the same music, value by value as `evidence` has them, and where they start from. Logistic regression over
 * the sections heard in 300 songs of three unlike programs.
 */
const WEIGHTS = [3.2, 2.8, 2.8, 1.3, -2.4, -0.3, -1.1, -1.1, -1.1, -0.5];
const START = -1.1;
/** Odds are never surer than this. */
const SUREST = 6;
/** Mean log odds above which two groups are one. */
const TOGETHER = -0.5;

/** Likeness of harmony from which on other music is the same strain played otherwise. */
const STRAIN = 0.6;

/**
 * The same letter for spans of the same music, A first: average linkage of the log odds that two spans are the same. And by how many
 * semitones each span is higher than the music's first rendering; music that is new stays where the span before it is.
 */
export function likesOf(
  view: BarView,
  repetition: Repetition,
  spans: readonly Bars[],
): { letters: string[]; raised: number[]; strains: boolean[] } {
  const odds = spans.map(() => new Float64Array(spans.length));
  const steps = spans.map(() => new Int8Array(spans.length));
  const chords = spans.map(() => new Float64Array(spans.length));
  spans.forEach((b, j) => {
    for (let i = 0; i < j; i++) {
      const pair = likeEvidence(view, repetition, spans[i]!, b);
      const sum = pair.values.reduce((s, x, n) => s + WEIGHTS[n]! * x, START);
      odds[i]![j] = Math.max(-SUREST, Math.min(SUREST, sum));
      odds[j]![i] = odds[i]![j]!;
      steps[i]![j] = pair.steps;
      chords[i]![j] = pair.values[0]!;
      chords[j]![i] = pair.values[0]!;
    }
  });
  const group = grouped(odds);
  const raised: number[] = [];
  spans.forEach((_, j) => {
    const votes = new Map<number, number>();
    for (let i = 0; i < j; i++) {
      if (group[i] !== group[j]) continue;
      const at = raised[i]! + steps[i]![j]!;
      votes.set(at, (votes.get(at) ?? 0) + 1);
    }
    const [winner] = [...votes].sort((a, b) => b[1] - a[1])[0] ?? [raised.at(-1) ?? 0];
    raised.push(winner);
  });
  const strains = spans.map((a, i) =>
    spans.some((b, j) => group[i] !== group[j] && a[1] - a[0] <= b[1] - b[0] && chords[i]![j]! > STRAIN),
  );
  return { letters: group.map(letter), raised, strains };
}

/** Evidence that two spans hold the same music, the second later, and how many semitones it is higher. */
export function likeEvidence(
  view: BarView,
  repetition: Repetition,
  a: Bars,
  b: Bars,
): { values: number[]; steps: number } {
  const [x, y] = [a[1] - a[0], b[1] - b[0]];
  const [shorter, longer] = [Math.min(x, y), Math.max(x, y)];
  const inThisKey = inStep(view, repetition, a, b, 0);
  let best = { like: inThisKey, steps: 0 };
  for (let steps = -FARTHEST_KEY; steps <= FARTHEST_KEY; steps++) {
    if (steps === 0) continue;
    const like = inStep(view, repetition, a, b, steps) - OTHER_KEY;
    if (like > best.like) best = { like, steps };
  }
  const edges = Number(a[0] === 0) + Number(b[1] === view.count);
  return {
    values: [
      best.like,
      Math.max(0, best.like - 0.5),
      x === y ? best.like : 0,
      best.like - inThisKey,
      timbreDistance(view, a, b),
      rhythmDistance(view, a, b),
      Number(x === y),
      Number(longer === 2 * shorter),
      Number(shorter < 4),
      x === y ? 0 : edges,
    ],
    steps: best.steps,
  };
}

/** Mean likeness bar by bar from the start of both, the second `steps` semitones higher. */
function inStep(view: BarView, { scale }: Repetition, a: Bars, b: Bars, steps: number): number {
  const bars = Math.min(a[1] - a[0], b[1] - b[0]);
  let sum = 0;
  for (let k = 0; k < bars; k++) sum += scale(harmonyLikeness(view, a[0] + k, b[0] + k, (steps + 12) % 12));
  return sum / bars;
}

/** The number of each one's group, in order of their first members. */
function grouped(odds: readonly Float64Array[]): number[] {
  const groups = odds.map((_, i) => [i]);
  for (;;) {
    let best = { a: -1, b: -1, odds: TOGETHER };
    for (let a = 0; a < groups.length; a++) {
      for (let b = a + 1; b < groups.length; b++) {
        const together = mean(groups[a]!.flatMap((i) => groups[b]!.map((j) => odds[i]![j]!)));
        if (together > best.odds) best = { a, b, odds: together };
      }
    }
    if (best.a < 0) break;
    groups[best.a]!.push(...groups[best.b]!);
    groups.splice(best.b, 1);
  }
  groups.sort((a, b) => Math.min(...a) - Math.min(...b));
  return odds.map((_, i) => groups.findIndex((group) => group.includes(i)));
}

/** A to Z, then AA, AB ... */
const letter = (i: number): string =>
  (i < 26 ? '' : String.fromCharCode(64 + Math.floor(i / 26))) + String.fromCharCode(65 + (i % 26));
