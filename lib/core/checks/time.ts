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
export function isInTime({ from }: Pick<Rule, 'from'>, board: Board, today: Day): boolean {
  const days = daysUntil(board, today);
  if (days === null) return from === undefined;
  return days >= 0 && (from === undefined || days <= from);
}
