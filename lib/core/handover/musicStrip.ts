import type { DanceStrip } from './danceStripShape.ts';

/**
 * The whole dance for the DJ: the music alone. What the couple do in it is no matter of a yes, which holds for all that the DJ is
 * shown, so that a move on another count must not stand there.
 */
export const djStrip = (strip: DanceStrip): DanceStrip => ({
  ...strip,
  moves: [],
  walk: null,
  firstStep: null,
});

/** The same for the planner, whose entry tells of the walk-on, the first step and the pose, and of no moves. */
export const entryStrip = (strip: DanceStrip): DanceStrip => ({ ...strip, moves: [] });
