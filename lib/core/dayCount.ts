import { type Day, monthLength, partsOf } from './calendar.ts';

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
    day += monthLength(year, month);
  }
  while (day > monthLength(year, month)) {
    day -= monthLength(year, month);
    [year, month] = month === 12 ? [year + 1, 1] : [year, month + 1];
  }
  return `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}` as Day;
}
