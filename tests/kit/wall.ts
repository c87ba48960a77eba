/**
 * Wall-clock times and instants by the platform's `Intl.DateTimeFormat` alone (ECMA-402): the other side of what lib/zone reckons by
 * the calendar library.
 */

const formats = new Map<string, Intl.DateTimeFormat>();

/** `2027-06-12T20:45:00` on the wall of a zone at an instant in milliseconds. Swedish is written as ISO 8601 is. */
export function wallAt(zone: string, instant: number): string {
  const made = formats.get(zone);
  const format =
    made ?? new Intl.DateTimeFormat('sv-SE', { timeZone: zone, dateStyle: 'short', timeStyle: 'medium' });
  if (!made) formats.set(zone, format);
  return format.format(instant).replace(' ', 'T');
}

const QUARTER = 900_000;

/** Every instant, in milliseconds, at which the wall of a zone shows this, the first one first; none that is skipped. */
export function instantsOf(wall: string, zone: string): number[] {
  const plain = Date.parse(`${wall}Z`);
  // Offsets are whole quarters of an hour, of less than a day: so it is in every zone since 1972.
  const all = Array.from({ length: 2 * 96 + 1 }, (_, i) => plain + (i - 96) * QUARTER);
  return all.filter((instant) => wallAt(zone, instant) === wall);
}

/**
 * The instant that RFC 5545, 3.3.5, means by a local time: of two the first; one that is skipped by the offset that held before.
 */
export function instantOf(wall: string, zone: string): number {
  const [first] = instantsOf(wall, zone);
  if (first !== undefined) return first;
  const plain = Date.parse(`${wall}Z`);
  const dayBefore = plain - 86_400_000;
  return plain - (Date.parse(`${wallAt(zone, dayBefore)}Z`) - dayBefore);
}
