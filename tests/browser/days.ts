import { dayWords } from '../../lib/core/areas/days.ts';
import { type Day, dayAfter } from '../../lib/core/calendar.ts';
import { dayIn } from '../../lib/zone/dayIn.ts';

/** ISO date some days from today: what a test takes for a party to come is still to come whenever it is run. */
const daysAhead = (days: number): Day => dayAfter(dayIn(null), days);

/** A day of a party that is months away, and as people read it. */
export const PARTY = daysAhead(240);
export const PARTY_WORDS = dayWords(PARTY);
