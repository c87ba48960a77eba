import { smoothFigures } from './inFour.ts';
import { figuresInThree } from './inThree.ts';
import { livelyFigures } from './lively.ts';
import type { Move } from './move.ts';
import { poses } from './poses.ts';
import { tangoAndBolero } from './tangoAndBolero.ts';

/**
 * The move library everybody starts with: figures by dance, a basic for each dance, and closing poses. Beside each stands
 * where its length comes from. Ids are stable, so that a board which copied one can be told apart from a studio's own.
 */
export const standardMoves: Move[] = [
  ...figuresInThree,
  ...smoothFigures,
  ...tangoAndBolero,
  ...livelyFigures,
  ...poses,
];
