import type { Day, TimeOfDay } from '../calendar.ts';

const MONTHS = 'January February March April May June July August September October November December'.split(
  ' ',
);

/** `12 June 2027` of a day, also of one with a time; empty for none. */
export function dayWords(date: string | null): string {
  if (!date) return '';
  const [year, month, day] = date.slice(0, 10).split('-').map(Number);
  return `${day} ${MONTHS[month! - 1]} ${year}`;
}

/** `20:45`, and `20:45:30` where there are seconds; empty for none. */
export const timeWords = (time: TimeOfDay | null): string => time?.replace(/^(..:..):00$/, '$1') ?? '';

/** Before this hour a dance is counted to the night that began on the day before; common practice, no source. */
const MORNING = '06:00';

/** Whether a time is taken to be after midnight, as long as nobody says otherwise. */
export const isAfterMidnight = (time: TimeOfDay): boolean => time < MORNING;

/** Which night a time after midnight is in: `the night after 12 June 2027`. */
export const nightWords = (party: Day | null): string =>
  party ? `the night after ${dayWords(party)}` : 'the night after the party’s day';
