import { nearestCount } from '../edit/nearestCount.ts';
import type { FloorScore } from '../edit/score.ts';
import type { Grid } from '../song/grid.ts';
import { type Count, count, type RecordTime, recordTime, wholeMicros } from '../units.ts';
import { onBoard } from './counts.ts';
import type { Move, PlacedMove } from './move.ts';
import type { DanceChange, DancePlan } from './plan.ts';

/** A move on the floor score. Counts are of the board's level; `end` and stretches are half open. */
export interface LaidMove {
  /** Of the placed move; moves of the ending have `ending-0`, `ending-1`, … */
  id: string;
  part: 'placed' | 'ending';
  move: Move;
  times: number;
  at: Count;
  counts: number;
  /** The first count after it. */
  end: Count;
  /** Where leading it begins, during the basic before it. */
  preparationFrom: Count;
  /** The count on which a pose lands. */
  lands: Count | null;
  /** The edit leaves its place out: `at` is then the first count that is played after that. */
  removedByEdit: boolean;
}

/** Counts that a move takes when it is danced so many times: what may not follow itself is led anew each time. */
function countsTaken(move: Move, times: number, grid: Grid): number {
  const between = move.repeats ? 0 : onBoard(move, move.preparation, grid);
  return times * onBoard(move, move.counts, grid) + (times - 1) * between;
}

/** A move laid out from a count of the floor score. */
export function lay(
  move: Move,
  at: number,
  grid: Grid,
  about: Pick<LaidMove, 'id' | 'part'> & {
    times?: number;
    removedByEdit?: boolean;
  },
): LaidMove {
  const times = about.times ?? 1;
  const counts = countsTaken(move, times, grid);
  const beforeLanding = move.landsOn === null ? 0 : onBoard(move, move.landsOn - 1, grid);
  return {
    ...about,
    move,
    times,
    at: count(at),
    counts,
    end: count(at + counts),
    preparationFrom: count(at - onBoard(move, move.preparation, grid)),
    lands: move.landsOn === null ? null : count(at + beforeLanding),
    removedByEdit: about.removedByEdit ?? false,
  };
}

/** The placed moves in the order in which they are danced. One whose move is no longer on the board is left out. */
export function laidOut(plan: DancePlan, score: FloorScore): LaidMove[] {
  const { grid } = plan;
  if (!grid || score.counts.length === 0) return [];
  const moves = new Map(plan.moves.map((move) => [move.id, move]));
  const laid: LaidMove[] = [];
  for (const placed of plan.placed) {
    const move = moves.get(placed.move);
    if (move) laid.push(layPlaced(placed, move, score, grid));
  }
  return laid.sort(byPlace);
}

/** A placed move where it lies. */
export function layPlaced(
  { id, at, times }: PlacedMove,
  move: Move,
  score: FloorScore,
  grid: Grid,
): LaidMove {
  const found = nearestCount(score, at);
  const place = found?.index ?? score.counts.find((c) => c.record >= at)?.index ?? score.counts.at(-1)!.index;
  return lay(move, place, grid, { id, part: 'placed', times, removedByEdit: !found });
}

/** The order in which placed moves are danced. */
export const byPlace = (a: LaidMove, b: LaidMove): number => a.at - b.at || (a.id < b.id ? -1 : 1);

/** What to store for a count of the floor score. */
export const storedAt = (score: FloorScore, at: number): RecordTime =>
  recordTime(wholeMicros(score.counts[at]!.record));

/** The change that places a move at a count. `id` is the new entry's, or that of a placed move to take its place. */
export function placeAt(score: FloorScore, move: string, at: number, id: string, times = 1): DanceChange[] {
  if (!score.counts[at]) return [];
  return [
    {
      collection: 'placed',
      id,
      fields: { move, at: storedAt(score, at), times },
    },
  ];
}

/** The change that puts a placed move on another count; none when there is no such count. */
export function putAt(score: FloorScore, id: string, at: number): DanceChange[] {
  if (!score.counts[at]) return [];
  return [{ collection: 'placed', id, fields: { at: storedAt(score, at) } }];
}

/**
 * Moves a placed move by counts, bars or phrases; forwards with positive steps. By a phrase it keeps its place in the phrase,
 * or takes the last count of a shorter one. No change where that would leave the song.
 */
export function moveBy(
  plan: DancePlan,
  score: FloorScore,
  id: string,
  unit: 'count' | 'bar' | 'phrase',
  steps: number,
): DanceChange[] {
  const laid = laidOut(plan, score).find((one) => one.id === id);
  if (!laid) return [];
  if (unit !== 'phrase') return putAt(score, id, laid.at + steps * (unit === 'bar' ? score.countsPerBar : 1));
  const here = score.counts[laid.at]!;
  const there = score.phrases[here.phrase + steps];
  if (here.phrase < 0 || !there) return [];
  return putAt(score, id, there.first + Math.min(here.inPhrase, there.counts - 1));
}
