import type { Move } from './move.ts';

/** A figure to put where the music changes: no basic, no link, no closing pose. */
export const isFigure = ({ basic, link, landsOn }: Pick<Move, 'basic' | 'link' | 'landsOn'>): boolean =>
  !basic && !link && landsOn === null;
