import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { dayWords, isAfterMidnight, nightWords, timeWords } from '../../lib/core/areas/days.ts';
import { type Day, dayAfter, daysBetween, isDay, isInstant, isWallTime } from '../../lib/core/calendar.ts';

/** Of the years around leap years of every rule (Gregorian: 1900 and 2100 are none, 2000 and 2028 are). */
const days = [1899, 1900, 1999, 2000, 2027, 2028, 2099, 2100].flatMap((year) =>
  Array.from({ length: 366 }, (_, i) => new Temporal.PlainDate(year, 1, 1).add({ days: i }).toString()),
) as Day[];

describe('days', () => {
  // The judge is Temporal (TC39), by which the core itself does not reckon.
  it('are counted as the calendar counts them', () => {
    for (const [i, day] of days.entries()) {
      const other = days[(i * 733) % days.length]!;
      const away = Temporal.PlainDate.from(day).until(other, { largestUnit: 'days' }).days;
      expect(daysBetween(day, other)).toBe(away);
      expect(dayAfter(day, (i % 900) - 450)).toBe(
        Temporal.PlainDate.from(day)
          .add({ days: (i % 900) - 450 })
          .toString(),
      );
    }
  });

  it('are those that the calendar has', () => {
    for (const day of days) expect(isDay(day)).toBe(true);
    for (const no of ['2027-02-29', '2100-02-29', '2027-04-31', '2027-00-10', '2027-13-01', '2027-1-1', ''])
      expect(isDay(no), no).toBe(false);
  });

  it('stand in wall times and instants, which are not taken for each other', () => {
    expect(isWallTime('2027-06-12T20:45')).toBe(true);
    expect(isWallTime('2027-06-12T20:45:00.000Z')).toBe(false);
    expect(isInstant('2027-06-12T20:45:00.000Z')).toBe(true);
    for (const no of ['2027-06-12T20:45:00Z', '2027-06-12T20:45', '2027-02-30T20:45:00.000Z'])
      expect(isInstant(no), no).toBe(false);
  });

  it('are put into words', () => {
    expect(dayWords('2028-02-29')).toBe('29 February 2028');
    expect([timeWords('20:45:00'), timeWords('20:45:30'), timeWords(null)]).toEqual([
      '20:45',
      '20:45:30',
      '',
    ]);
    expect(nightWords('2027-12-31')).toBe('the night after 31 December 2027');
    expect([isAfterMidnight('00:00'), isAfterMidnight('05:59:59'), isAfterMidnight('06:00')]).toEqual([
      true,
      true,
      false,
    ]);
  });
});
