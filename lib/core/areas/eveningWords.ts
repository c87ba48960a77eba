import type { Day, TimeOfDay } from '../calendar.ts';
import { dayWords } from './days.ts';

/** `20:45`, and `20:45:30` where there are seconds; empty for none. */
export const timeWords = (time: TimeOfDay | null): string => time?.replace(/^(..:..):00$/, '$1') ?? '';

/** Which night a time after midnight is in: `the night after 12 June 2027`. */
export const nightWords = (party: Day | null): string =>
  party ? `the night after ${dayWords(party)}` : 'the night after the party’s day';
