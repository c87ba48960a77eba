import { dayWords } from '../../lib/core/areas/days.ts';
import { type Day, daysBetween, type Instant } from '../../lib/core/calendar.ts';
import { instantOf } from '../../lib/zone/dayIn.ts';

/** How far off a day is: `today`, `in 3 days`, `in 5 weeks`, `in 7 months`, `2 days ago`. */
export function farWords(today: Day, date: Day): string {
  const days = daysBetween(today, date);
  if (days === 0) return 'today';
  if (days === 1) return 'tomorrow';
  if (days === -1) return 'yesterday';
  const size = Math.abs(days);
  // Weeks and months are rounded down: nobody should think they have longer than they do.
  const words =
    size < 14
      ? `${size} days`
      : size < 92
        ? `${Math.floor(size / 7)} weeks`
        : `${Math.floor(size / 30.44)} months`;
  return days > 0 ? `in ${words}` : `${words} ago`;
}

const two = (n: number) => String(n).padStart(2, '0');

/** `2 May 2027` where the reader is, whatever zone the party is in; for the browser only. */
export function instantDay(instant: Instant): string {
  const at = new Date(instant);
  return dayWords(`${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`);
}

/** `2 May 2027, 14:05` where the reader is; for the browser only. */
export function instantWords(instant: Instant): string {
  const at = new Date(instant);
  return `${instantDay(instant)}, ${two(at.getHours())}:${two(at.getMinutes())}`;
}

/** This instant, as documents store it. */
export const nowInstant = (): Instant => instantOf(new Date());

/**
 * This instant, or a second after the latest of the others where this device's clock is behind them: what is said in reply
 * must not count as said before.
 */
export const nowAfter = (others: readonly Instant[], now = Date.now()): Instant =>
  instantOf(new Date(Math.max(now, ...others.map((other) => Date.parse(other) + 1000))));
