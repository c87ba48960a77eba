import { dayWords } from '../../lib/core/areas/days.ts';

/** ISO date some days from today: what a test takes for a party to come is still to come whenever it is run. */
export const daysAhead = (days: number): string =>
  new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10);

/** A day of a party that is months away, and as people read it. */
export const PARTY = daysAhead(240);
export const PARTY_WORDS = dayWords(PARTY);
