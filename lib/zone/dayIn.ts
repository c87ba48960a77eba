import type { Day, Instant } from '../core/calendar.ts';

/** By zone: making one takes longer than all that a page does in a key press. Null for what is no zone. */
const known = new Map<string, Intl.DateTimeFormat | null>();

function daysOf(zone: string): Intl.DateTimeFormat | null {
  let format = known.get(zone);
  if (format === undefined) {
    try {
      format = new Intl.DateTimeFormat('en-u-ca-gregory-nu-latn', {
        timeZone: zone,
        year: 'numeric',
        month: 'numeric',
        day: 'numeric',
      });
    } catch {
      format = null;
    }
    known.set(zone, format);
  }
  return format;
}

/** Whether this machine's table of zones has it. */
export const isZone = (zone: string): boolean => daysOf(zone) !== null;

const dayOf = (year: number, month: number, day: number): Day =>
  `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}` as Day;

/**
 * The day that it is at an instant: in the zone of the party, so that everybody reads the same day of the same board; where that
 * is not known, in the reader's own, which is that of this machine unless another is given.
 * @param zone IANA name, as somebody wrote it on the board
 * @param reader the same of who reads, where that is not this machine
 */
export function dayIn(zone: string | null | undefined, reader?: string | null, now = new Date()): Day {
  const format = daysOf(zone ?? '') ?? daysOf(reader ?? '');
  if (!format) return dayOf(now.getFullYear(), now.getMonth() + 1, now.getDate());
  const parts = format.formatToParts(now);
  const part = (type: string) => Number(parts.find((one) => one.type === type)?.value);
  return dayOf(part('year'), part('month'), part('day'));
}

/** An instant as documents store it. */
export const instantOf = (at: Date): Instant => at.toISOString() as Instant;
