import { Temporal } from 'temporal-polyfill';
import type { EntryFacts } from '../core/agreed/entry.ts';
import { timeWords } from '../core/areas/eveningWords.ts';
import type { TimeOfDay, WallTime } from '../core/calendar.ts';
import { isZone } from './isZone.ts';

/** A moment of the evening. */
export interface PartyMoment {
  /** On the wall where the party is. */
  wall: Temporal.PlainDateTime;
  /** When that is everywhere else; null while nobody said in which zone the party is. */
  zoned: Temporal.ZonedDateTime | null;
}

/** What a run-of-show entry says in seconds, on the clock: the one place from which every paper and page takes it. */
export interface EntryTimes {
  /** The moment so many seconds after the beginning: also in the night in which the clocks are changed. */
  at(after: number): PartyMoment;
  /** `20:46:16` of it. */
  clock(after: number): string;
  /** What is to be known where the written time is not on the clock that night, or comes twice; empty else. */
  note: string;
}

const plain = (wall: WallTime): Temporal.PlainDateTime => {
  const [day, time] = wall.split('T') as [string, string];
  const [year, month, date] = day.split('-').map(Number) as [number, number, number];
  const [hour, minute, second = 0] = time.split(':').map(Number) as [number, number, number?];
  return new Temporal.PlainDateTime(year, month, date, hour, minute, second);
};

/** Null while its day or its time is open. */
export function entryTimes({ startsAt, zone }: Pick<EntryFacts, 'startsAt' | 'zone'>): EntryTimes | null {
  if (!startsAt) return null;
  const wall = plain(startsAt);
  // A time that is skipped counts on from before it, and of one that comes twice the first counts: RFC 5545, 3.3.5.
  const zoned = zone && isZone(zone) ? wall.toZonedDateTime(zone) : null;
  const at = (seconds: number): PartyMoment => {
    const then = zoned?.add({ seconds }) ?? null;
    return { wall: then?.toPlainDateTime() ?? wall.add({ seconds }), zoned: then };
  };
  return {
    at,
    clock: (after) => at(after).wall.toPlainTime().toString({ smallestUnit: 'second' }),
    note: zoned ? noteOf(wall, zoned) : '',
  };
}

const wordsOf = (time: Temporal.PlainDateTime): string =>
  timeWords(time.toPlainTime().toString({ smallestUnit: 'second' }) as TimeOfDay);

function noteOf(wall: Temporal.PlainDateTime, zoned: Temporal.ZonedDateTime): string {
  const time = wordsOf(wall);
  const is = zoned.toPlainDateTime();
  if (!is.equals(wall))
    return `The clocks are set forward that night, and ${time} is skipped: it is ${wordsOf(is)} then.`;
  const last = wall.toZonedDateTime(zoned.timeZoneId, { disambiguation: 'later' });
  return last.equals(zoned)
    ? ''
    : `The clocks are set back that night, and ${time} comes twice: this is the first of them.`;
}

/** What the clock shows in another zone at the beginning: `21:45`, with the day where that differs; null where it shows the same. */
export function elsewhere(start: PartyMoment, zone: string): { time: string; day: string | null } | null {
  if (!start.zoned) return null;
  const there = start.zoned.withTimeZone(zone).toPlainDateTime();
  if (there.equals(start.wall)) return null;
  const day = there.toPlainDate();
  return { time: wordsOf(there), day: day.equals(start.wall.toPlainDate()) ? null : day.toString() };
}
