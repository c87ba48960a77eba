import { countFactor } from '../dance/counts.ts';
import type { Move } from '../dance/move.ts';
import type { Danced } from './finding.ts';

/** Slower than this, balance takes strength: seconds a count; common practice, no source. */
export const SLOWEST = 1.6;

/** Seconds that one count of a move takes in this music. */
export const secondsACount = (move: Move, { score, grid }: Danced): number =>
  score.interval * countFactor(move, grid);

export const isTooFast = (move: Move, danced: Danced): boolean =>
  secondsACount(move, danced) < move.leastSeconds - 1e-6;
export const isTooSlow = (move: Move, danced: Danced): boolean => secondsACount(move, danced) > SLOWEST;

/** Whether this music has a speed at which a move can be danced. */
export const suitsPace = (move: Move, danced: Danced): boolean =>
  !isTooFast(move, danced) && !isTooSlow(move, danced);
