/**
 * Days, times of the day, wall-clock times and instants as ISO 8601 text, each a type of its own, and never as `Date`: that is an
 * instant, and reads as another hour in another zone. Where a wall time meets a zone is lib/zone; here a day is reckoned with as
 * the calendar does it, the same everywhere (proleptic Gregorian).
 */

/** `2027-06-12` */
export type Day = `${number}-${number}-${number}`;
/** `20:45` or `20:45:30`, on the clock on the wall. */
export type TimeOfDay = `${number}:${number}` | `${number}:${number}:${number}`;
/** Day and time where the party is, whichever zone that is. */
export type WallTime = `${Day}T${TimeOfDay}`;
/** UTC, always with milliseconds: then the order of texts is the order of time. */
export type Instant = `${Day}T${number}:${number}:${number}Z`;

const MONTH_DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

const isLeap = (year: number): boolean => year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);

/** Days of a month, from 1; none of one that the calendar does not have. */
const lengthOf = (year: number, month: number): number =>
  month === 2 && isLeap(year) ? 29 : (MONTH_DAYS[month - 1] ?? 0);

const partsOf = (day: Day): [year: number, month: number, day: number] =>
  day.split('-').map(Number) as [number, number, number];

/** Whether the calendar has it: some month 13 or 30 February would stop whoever reckons with it. */
export function isDay(text: string): text is Day {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  const [year, month, day] = partsOf(text as Day);
  return day >= 1 && day <= lengthOf(year, month);
}

export const isTimeOfDay = (text: string): text is TimeOfDay => /^([01]\d|2[0-3])(:[0-5]\d){1,2}$/.test(text);

/** A day and a time, with a T between them. */
export const isWallTime = (text: string): text is WallTime =>
  text[10] === 'T' && isDay(text.slice(0, 10)) && isTimeOfDay(text.slice(11));

export const isInstant = (text: string): text is Instant =>
  /\.\d{3}Z$/.test(text) && text.length === 24 && isWallTime(text.slice(0, 19));

/**
 * Days since 1 March of the year 0, with which the leap day is the last of a year. Method: Howard Hinnant, "chrono-Compatible
 * Low-Level Date Algorithms", days_from_civil.
 */
function numberOf(of: Day): number {
  const [year, month, day] = partsOf(of);
  const y = month > 2 ? year : year - 1;
  const ofYear = Math.floor((153 * (month > 2 ? month - 3 : month + 9) + 2) / 5) + day - 1;
  return y * 365 + Math.floor(y / 4) - Math.floor(y / 100) + Math.floor(y / 400) + ofYear;
}

/** Whole days from one to another; negative when the second is earlier. */
export const daysBetween = (from: Day, to: Day): number => numberOf(to) - numberOf(from);

const two = (n: number): string => String(n).padStart(2, '0');

/** The day so many days after another, before it where they are negative. */
export function dayAfter(from: Day, days: number): Day {
  let [year, month, day] = partsOf(from);
  day += days;
  while (day < 1) {
    [year, month] = month === 1 ? [year - 1, 12] : [year, month - 1];
    day += lengthOf(year, month);
  }
  while (day > lengthOf(year, month)) {
    day -= lengthOf(year, month);
    [year, month] = month === 12 ? [year + 1, 1] : [year, month + 1];
  }
  return `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}` as Day;
}
