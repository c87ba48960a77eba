import { songDuration } from '../dance/clock.ts';
import { wholeSong } from '../edit/edit.ts';
import { floorScore } from '../edit/floorScore.ts';
import type { FloorScore } from '../edit/score.ts';
import type { Grid } from '../song/grid.ts';
import { fieldsWith } from './field.ts';
import { type Plan, planShape } from './plan.ts';

const { registers, collections } = planShape;
const scoredRegisters = fieldsWith(registers, { scored: true });
const scoredLists = fieldsWith(collections, { scored: true });
/** The parts of a plan that the floor score is made of: while these stay the same, so does it. */
export const scoredFields = [...scoredRegisters, ...scoredLists];

type Song = Pick<Plan, (typeof scoredFields)[number]>;

/** Registers are replaced and never altered, so that the same object says the same. */
const sameSong = (a: Song, b: Song): boolean =>
  scoredRegisters.every((name) => a[name] === b[name]) &&
  scoredLists.every((name) => a[name] === b[name] || JSON.stringify(a[name]) === JSON.stringify(b[name]));

/** The last score of each grid, kept no longer than the grid: most changes of a board leave its song as it is. */
const kept = new WeakMap<Grid, { song: Song; score: FloorScore }>();

/**
 * The song as danced, of a board's plan; null without a grid. Without an edit it is the whole recording. The same object as long
 * as the song is the same.
 */
export function boardScore(plan: Plan): FloorScore | null {
  const score = tryScore(plan);
  const { grid, phraseBars, edit, recording, heard, sections } = plan;
  if (grid && score) kept.set(grid, { song: { grid, phraseBars, edit, recording, heard, sections }, score });
  return score;
}

/** The same of a plan that is only tried: the board's own score stays the one that is known. */
export function tryScore(plan: Plan): FloorScore | null {
  const { grid, phraseBars, edit, heard, sections } = plan;
  if (!grid || grid.beats.length < 2) return null;
  const known = kept.get(grid);
  if (known && sameSong(known.song, plan)) return known.score;
  const duration = songDuration(plan);
  const song = {
    grid,
    sections,
    phraseBars: phraseBars ?? usualPhraseBars(grid),
    duration,
    lastSound: heard?.lastSound ?? duration,
  };
  return floorScore(song, edit ?? wholeSong);
}

/**
 * Bars a phrase until a person says otherwise: four of four or of a compound metre, eight of the short bars of three or two,
 * so that a phrase lasts about as long in each. Common practice, no source.
 */
export const usualPhraseBars = (grid: Grid): number =>
  grid.beatsPerBar === 4 || grid.subdivision === 3 ? 4 : 8;
