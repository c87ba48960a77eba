import type { FloorCount, FloorScore } from '@/lib/core/edit/score.ts';

/** Dancers count twos and fours over two bars of four, "1 to 8", and threes "1 2 3". */
const EIGHT = 8;

/** Whether the dancers count in threes: a bar of three, or thirds of a beat. */
export const inThrees = (score: FloorScore): boolean => score.countsPerBar % 3 === 0;

/** What a dancer says on a count; never a bar number, which a dancer would take for a count. */
export function said(score: FloorScore, at: FloorCount): number {
  if (inThrees(score)) return (at.inBar % 3) + 1;
  if (at.phrase >= 0) return (at.inPhrase % EIGHT) + 1;
  // Counts of no phrase lead to the 1 of the phrase after them, or go on after the last one.
  const next = score.counts.find((count) => count.index > at.index && count.phrase >= 0);
  const last = score.counts.findLast((count) => count.index < at.index && count.phrase >= 0);
  if (!last && next) return ((((at.index - next.index) % EIGHT) + EIGHT) % EIGHT) + 1;
  return last ? ((last.inPhrase + at.index - last.index) % EIGHT) + 1 : (at.index % EIGHT) + 1;
}

/** How many counts dancers count before they begin again. */
export const saidRound = (score: FloorScore): number => (inThrees(score) ? 3 : EIGHT);
