import type { Block, BlockPlace } from './blocks.ts';

/** A block and the place that was chosen for it; null where the copy shows nothing of the recording. */
export interface Matched {
  at: number;
  place: BlockPlace | null;
}

/** Likeness that a block of no place is worth, and what a change of the offset costs. */
const NOWHERE = 0.4;
const CHANGE = 0.8;
/** Offsets within this many frames are the same one. */
export const SAME_OFFSET = 1.5;

/**
 * The likeliest way through the places of all blocks: as alike as can be with as few changes of the offset, so that equal
 * choruses are not confused (Viterbi's algorithm).
 */
export function likeliestPath(blocks: readonly Block[]): Matched[] {
  let scores: number[] = [];
  const back: number[][] = [];
  for (const [i, block] of blocks.entries()) {
    const before = i > 0 ? statesOf(blocks[i - 1]!) : [];
    const steps: number[] = [];
    scores = statesOf(block).map((place) => {
      let best = i === 0 ? 0 : Number.NEGATIVE_INFINITY;
      let from = -1;
      for (const [k, previous] of before.entries()) {
        const score = scores[k]! - (follows(previous, place) ? 0 : CHANGE);
        if (score > best) [best, from] = [score, k];
      }
      steps.push(from);
      return best + (place?.likeness ?? NOWHERE);
    });
    back.push(steps);
  }
  const path: Matched[] = [];
  let state = scores.indexOf(Math.max(...scores));
  for (let i = blocks.length - 1; i >= 0; i--) {
    path.push({ at: blocks[i]!.at, place: statesOf(blocks[i]!)[state]! });
    state = back[i]![state]!;
  }
  return path.reverse();
}

const statesOf = ({ places }: Block): (BlockPlace | null)[] => [...places, null];

function follows(a: BlockPlace | null, b: BlockPlace | null): boolean {
  return a && b ? Math.abs(a.offset - b.offset) <= SAME_OFFSET : a === b;
}
