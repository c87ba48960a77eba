import { songDuration } from '../dance/clock.ts';
import { wholeSong } from '../edit/edit.ts';
import { floorScore } from '../edit/floorScore.ts';
import type { FloorScore } from '../edit/score.ts';
import type { Grid } from '../song/grid.ts';
import type { Plan } from './plan.ts';

/** The parts of a plan that the floor score is made of: while these stay the same, so does it. */
export const scoreRegisters = [
  'grid',
  'phraseBars',
  'edit',
  'recording',
  'heard',
] as const satisfies readonly (keyof Plan)[];

/** Both plans have the same floor score. Registers are replaced and never altered, so that the same object says the same. */
export const sameSong = (a: Plan, b: Plan): boolean =>
  scoreRegisters.every((name) => a[name] === b[name]) &&
  a.sections.length === b.sections.length &&
  JSON.stringify(a.sections) === JSON.stringify(b.sections);

/**
 * The song as danced, of a board's plan; null without a grid. Without an edit it is the whole recording.
 */
export function boardScore(plan: Plan): FloorScore | null {
  const { grid } = plan;
  if (!grid || grid.beats.length < 2) return null;
  const duration = songDuration(plan);
  const song = {
    grid,
    sections: plan.sections,
    phraseBars: plan.phraseBars ?? usualPhraseBars(grid),
    duration,
    lastSound: plan.heard?.lastSound ?? duration,
  };
  return floorScore(song, plan.edit ?? wholeSong);
}

/**
 * Bars a phrase until a person says otherwise: four of four or of a compound metre, eight of the short bars of three or two,
 * so that a phrase lasts about as long in each. Common practice, no source.
 */
export const usualPhraseBars = (grid: Grid): number =>
  grid.beatsPerBar === 4 || grid.subdivision === 3 ? 4 : 8;
