import type { Manner } from '@/lib/core/dance/manners.ts';

/** All that the panel of proposed dances says, in one place for translation. */
export const words = {
  stands: 'It stands on the sheet now. Move what you like differently.',
  takeBack: 'Take it back',
  noMoves: 'Nothing to propose yet: add the moves that the couple know, under “Moves”.',
  around: 'Around what stands on the sheet',
  anew: 'Whole dances anew',
  whole: 'Propose three dances',
  cancel: 'Stop looking',
  atWork: 'Looking for dances',
  failed: 'Looking for dances failed. Please try once more.',
  changed: 'The dance has changed since: look again.',
  again: 'Look again',
  none: 'Every place that has room for a move has one.',
  noneAnew: 'The couple’s moves find no better place.',
  taken: 'It takes away the moves that stand on the sheet now. Undo brings them back.',
  take: 'Dance it like this',
  where: 'what is danced where',
  exact: 'The best of all ways to place these moves.',
  bounded: 'The best that was found; there are too many ways to try them all.',
};

export const titles: Record<Manner, string> = {
  remembered: 'Easy to remember',
  varied: 'More to look at',
  easy: 'Calm',
};
