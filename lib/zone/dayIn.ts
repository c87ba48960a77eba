import type { Day, Instant } from '../core/calendar.ts';

/** Swedish writes a day as ISO 8601 does. */
const dayOf = (now: Date, timeZone?: string): Day => now.toLocaleDateString('sv-SE', { timeZone }) as Day;

/**
 * The day that it is at an instant: in the zone of the party, so that everybody reads the same day of the same board; where that
 * is not known, in the reader's own, which is that of this machine unless another is given.
 * @param zone IANA name, as somebody wrote it on the board
 * @param reader the same of who reads, where that is not this machine
 */
export function dayIn(zone: string | null | undefined, reader?: string | null, now = new Date()): Day {
  for (const one of [zone, reader]) {
    try {
      if (one) return dayOf(now, one);
    } catch {
      // What somebody wrote there is no zone.
    }
  }
  return dayOf(now);
}

/** An instant as documents store it. */
export const instantOf = (at: Date): Instant => at.toISOString() as Instant;
