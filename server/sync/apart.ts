import type { AreaName } from '../../lib/core/areas/board.ts';

/** A part of a board is damaged and was set apart: nobody enters it, and all others stand. */
export class AreaApart extends Error {
  constructor(
    readonly area: AreaName,
    readonly sentence = 'This part of the board is damaged and was set apart.',
  ) {
    super(sentence);
  }
}
