import { isWallTime, type TimeOfDay } from '../calendar.ts';
import { isAfterMidnight } from './days.ts';

/**
 * The registers of the show area in its first version as the second has them: that one held a day of its own beside the
 * party's, which then was one of two. Only its time stays, and that it is after midnight.
 */
export function showOfOne({ startsAt, ...rest }: Readonly<Record<string, unknown>>): Record<string, unknown> {
  if (typeof startsAt !== 'string' || !isWallTime(startsAt)) return rest;
  const time = startsAt.slice(11) as TimeOfDay;
  return { ...rest, time, ...(isAfterMidnight(time) ? { afterMidnight: true } : {}) };
}
