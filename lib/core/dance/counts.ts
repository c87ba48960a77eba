import { levelOf } from '../edit/recordCounts.ts';
import type { Grid } from '../song/grid.ts';
import type { Move } from './move.ts';

const BEATS = { subdivision: 1 / 3, beat: 1, half: 2 } as const;

/**
 * Counts of the board's level that one count of a move takes. Where a compound metre is counted in thirds, these are the
 * dancers' beats: a figure in three then dances one count on each, and a figure in four three.
 */
export function countFactor(move: Pick<Move, 'level' | 'metre'>, grid: Grid): number {
  const level = levelOf(grid);
  if (level === 'subdivision' && move.level === 'beat' && move.metre === 3) return 1;
  return BEATS[move.level] / BEATS[level];
}

/** A number of the move's counts, in whole counts of the board's level: what begins a count takes all of it. */
export const onBoard = (move: Pick<Move, 'level' | 'metre'>, counts: number, grid: Grid): number =>
  Math.ceil(counts * countFactor(move, grid) - 1e-9);

/** Counts in a bar as the dancers feel it: thirds of a compound metre are danced in bars of three. */
export const dancedBar = (grid: Grid): number => {
  const level = levelOf(grid);
  if (level === 'subdivision') return 3;
  return level === 'half' ? grid.beatsPerBar / 2 : grid.beatsPerBar;
};

/** The metre a figure must suit: 3 for bars of three and for thirds, 4 for what goes in twos and fours. */
export const dancedMetre = (grid: Grid): 3 | 4 =>
  grid.beatsPerBar === 3 || levelOf(grid) === 'subdivision' ? 3 : 4;

/** Whether a figure suits the board's metre. */
export const suitsMetre = (move: Pick<Move, 'metre'>, grid: Grid): boolean =>
  move.metre === 0 || move.metre === dancedMetre(grid);

const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b));

/**
 * Whether a figure may start on this count of its bar (from 0). A figure that is no whole number of bars long starts, when
 * danced again and again, on other counts too: six counts meet the bar of four again after twelve beats, by way of its
 * third count.
 */
export function mayStartOn(move: Move, inBar: number, grid: Grid): boolean {
  const bar = dancedBar(grid);
  const first = Math.round((move.startsOn - 1) * countFactor(move, grid)) % bar;
  const step = divisor(bar, onBoard(move, move.counts, grid));
  return (((inBar - first) % step) + step) % step === 0;
}
