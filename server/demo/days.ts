import { type Day, dayAfter, daysBetween, type Instant } from '../../lib/core/calendar.ts';

/** A Saturday, from which the others are counted. */
const A_SATURDAY = '2000-01-01';
/** Days to the party when the demonstration is first opened: still lessons to come, and time for the DJ to answer. */
const TO_THE_PARTY = 49;

/** The demonstration's calendar, counted from the day it is made, so that nothing in it was written in the future. */
export interface DemoDays {
  /** The day so many days from today. */
  day(offset: number): Day;
  /** An instant on that day, UTC, `17:05`. */
  at(offset: number, time: `${number}:${number}`): Instant;
  /** A Saturday some weeks ahead. */
  party: Day;
}

export function demoDays(today: Day): DemoDays {
  const day = (offset: number) => dayAfter(today, offset);
  const sinceSaturday = (((daysBetween(A_SATURDAY, today) + TO_THE_PARTY) % 7) + 7) % 7;
  return {
    day,
    at: (offset, time) => `${day(offset)}T${time}:00.000Z`,
    party: day(TO_THE_PARTY + ((7 - sinceSaturday) % 7)),
  };
}
