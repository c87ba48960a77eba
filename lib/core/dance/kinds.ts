import type { Grid } from '../song/grid.ts';
import { suitsMetre } from './counts.ts';
import { dance, type Move } from './move.ts';
import type { DancePlan } from './plan.ts';

/** A figure to put where the music changes: no basic, no link, no closing pose. */
export const isFigure = ({ basic, link, landsOn }: Pick<Move, 'basic' | 'link' | 'landsOn'>): boolean =>
  !basic && !link && landsOn === null;

/**
 * What somebody chooses for a count or for the ending: no basic, which goes on by itself, and no link, which the checks put where the feet
 * need it.
 */
export const choosable = (moves: readonly Move[], grid: Grid | null): Move[] =>
  moves.filter((move) => !move.basic && !move.link && (!grid || suitsMetre(move, grid)));

/** A dance can be proposed, and nobody has begun one: there are figures, and none is placed. */
export const isUnbegun = ({ moves, placed }: Pick<DancePlan, 'moves' | 'placed'>): boolean =>
  placed.length === 0 && moves.some(isFigure);

/** Whether the library has a basic and figures of a dance: one without is named to nobody. */
export const hasFigures = (name: string): boolean => dance.safeParse(name).success;

/** What the couple learn: the basics first, then by name. Links stand on the sheet, but nobody learns them. */
export const learned = (moves: readonly Move[]): Move[] =>
  moves
    .filter(({ link }) => !link)
    .sort((a, b) => Number(b.basic) - Number(a.basic) || a.name.localeCompare(b.name));
