const DAY = 86_400_000;
const SATURDAY = 6;
/** Days to the party when the demonstration is first opened: still lessons to come, and time for the DJ to answer. */
const TO_THE_PARTY = 49;

/** The demonstration's calendar, counted from the day it is made, so that nothing in it was written in the future. */
export interface DemoDays {
  /** ISO date so many days from today. */
  day(offset: number): string;
  /** An instant on that day, UTC, `17:05`. */
  at(offset: number, time: string): string;
  /** A Saturday some weeks ahead. */
  party: string;
}

export function demoDays(today: string): DemoDays {
  const noon = Date.parse(`${today}T12:00:00Z`);
  const day = (offset: number) => new Date(noon + offset * DAY).toISOString().slice(0, 10);
  const weekday = new Date(noon + TO_THE_PARTY * DAY).getUTCDay();
  return {
    day,
    at: (offset, time) => `${day(offset)}T${time}:00.000Z`,
    party: day(TO_THE_PARTY + ((SATURDAY - weekday + 7) % 7)),
  };
}
