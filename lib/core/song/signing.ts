import { median } from '../signal/statistics.ts';
import { type Grid, type GridAspect, gridAspects } from './grid.ts';

/** Beats within this factor of one another are the same beats, played slower or faster; twice or half is another level. */
const SAME_PACE = 1.25;

/** A name as it is kept; null for none. */
export const signed = (name: string): string | null => name.trim().slice(0, 120) || null;

/** Confirmed by somebody in some of what is heard; an empty name leaves that unconfirmed. */
export const confirmGrid = (grid: Grid, aspects: readonly GridAspect[], by: string): Grid =>
  withWord(grid, aspects, signed(by));

/**
 * A corrected grid with whose word each aspect of it now is: of what was looked at, theirs who corrected it; of the rest, as before
 * where it is as before, and nobody's where it is not.
 */
export function correctedBy(by: string, before: Grid, after: Grid, looked: GridAspect): Grid {
  const kept = { ...after, confirmedBy: before.confirmedBy };
  const changed = gridAspects.filter((one) => !isAs[one](before, after));
  return confirmGrid(withWord(kept, changed, null), [looked], by);
}

const withWord = (grid: Grid, aspects: readonly GridAspect[], word: string | null): Grid => ({
  ...grid,
  confirmedBy: { ...grid.confirmedBy, ...Object.fromEntries(aspects.map((one) => [one, word])) },
});

const isAs: Record<GridAspect, (a: Grid, b: Grid) => boolean> = {
  // Three beats a bar of beats twice as fast are another metre.
  metre: (a, b) => a.beatsPerBar === b.beatsPerBar && a.subdivision === b.subdivision && samePace(a, b),
  beats: (a, b) => sameTimes(a.beats, b.beats),
  bars: (a, b) => sameTimes(barLines(a), barLines(b)),
};

const barLines = ({ beats, bars }: Grid): number[] => bars.map((i) => beats[i]!);

const sameTimes = (a: readonly number[], b: readonly number[]): boolean =>
  a.length === b.length && a.every((time, i) => time === b[i]);

const samePace = (a: Grid, b: Grid): boolean => {
  const ratio = pace(a) / pace(b);
  return ratio < SAME_PACE && ratio > 1 / SAME_PACE;
};

/** Seconds from beat to beat. */
const pace = ({ beats }: Grid): number => median(beats.slice(1).map((at, i) => at - beats[i]!));
