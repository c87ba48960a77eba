import { dayWords } from '../../lib/core/areas/days.ts';

/** Days from one ISO date to another; negative when it has passed. */
export const daysBetween = (from: string, to: string): number =>
  Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / 86_400_000);

/** How far off a day is: `today`, `in 3 days`, `in 5 weeks`, `in 7 months`, `2 days ago`. */
export function farWords(today: string, date: string): string {
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

/** An ISO date some days after another. */
export function dayAfter(date: string, days: number): string {
  return new Date(Date.parse(`${date}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);
}

const two = (n: number) => String(n).padStart(2, '0');

/** `2 May 2027` where the reader is, from a UTC instant; for the browser only. */
export function instantDay(instant: string): string {
  const at = new Date(instant);
  return dayWords(`${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`);
}

/** `2 May 2027, 14:05` where the reader is, from a UTC instant; for the browser only. */
export function instantWords(instant: string): string {
  const at = new Date(instant);
  return `${instantDay(instant)}, ${two(at.getHours())}:${two(at.getMinutes())}`;
}

/** This instant, as documents store it. */
export const nowInstant = (): string => new Date().toISOString();

/**
 * This instant, or a second after the latest of the others where this device's clock is behind them: what is said in reply
 * must not count as said before.
 */
export const nowAfter = (others: readonly string[], now = Date.now()): string =>
  new Date(Math.max(now, ...others.map((other) => Date.parse(other) + 1000))).toISOString();
