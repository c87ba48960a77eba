import { danceTime } from '../agreed/entry.ts';
import type { Board } from '../areas/board.ts';
import type { Day } from '../calendar.ts';
import { daysBetween } from '../dayCount.ts';
import type { Rule } from './finding.ts';

/** Whole days until the dance, negative once it is over; null while its day is open. After midnight it is on the next day. */
export function daysUntil(board: Board, today: Day): number | null {
  const { day } = danceTime(board);
  return day && daysBetween(today, day);
}

/**
 * Whether a rule speaks on this day: not before its own time, and not once the dance is over. A rule that waits for its time
 * waits also while the day is open.
 */
export function isInTime(
  { from, afterwards }: Pick<Rule, 'from' | 'afterwards'>,
  board: Board,
  today: Day,
): boolean {
  const days = daysUntil(board, today);
  if (days === null) return from === undefined && !afterwards;
  if (days < 0 !== (afterwards === true)) return false;
  return from === undefined || days <= from;
}

/** Six weeks: when whoever plays and runs the evening plans it, days. Common practice, no source. */
export const HANDING_OVER = 42;

/** Eight weeks: clothes are fitted and the room is known, and lessons are left to try them in, days. Common practice, no source. */
export const FITTING = 56;
