import ical, { type ICalEventData } from 'ical-generator';
import type { EntryFacts } from '../core/agreed/entry.ts';
import type { Instant } from '../core/calendar.ts';
import { effectsCaution } from '../core/dance/cautions.ts';
import { good, type Result } from '../core/result.ts';
import { clock } from '../core/units.ts';
import { entryTimes, type PartyMoment } from '../zone/entryTimes.ts';
import { calendarTime } from './needs.ts';
import { vtimezone } from './zones.ts';

/**
 * The run-of-show entry as a calendar (RFC 5545): the dance, and within it the moments of others. Problem: `no-time`.
 * @param id stable id of the board, so that a subscription changes the event and adds none
 * @param stamp when this was written
 */
export function entryIcs(
  entry: EntryFacts,
  about: { id: string; place: string; stamp: Instant },
): Result<string> {
  const needed = calendarTime(entry);
  if (!needed.ok) return needed;
  const { total, startsAt } = needed.value;
  const times = entryTimes({ startsAt, zone: entry.zone })!;
  const calendar = ical({
    name: entry.title,
    prodId: { company: 'Larkstep', product: 'first dance', language: 'EN' },
    // A name here would put the stamp into that zone, where RFC 5545, 3.8.7.2, wants UTC; each event names its own.
    timezone: { name: null, generator: (zone) => vtimezone(zone, times.at(0).wall.year) },
  });
  const add = (uid: string, after: number, seconds: number, summary: string, description: string) =>
    calendar.createEvent({
      ...span(times.at(after), times.at(after + seconds)),
      id: `${uid}-${about.id}@larkstep`,
      summary,
      description,
      location: about.place,
      stamp: about.stamp,
    });
  const facts = Object.entries(entry.facts).map(([label, value]) => `${label}: ${value}`);
  add('dance', 0, total, entry.title, [...facts, times.note, effectsCaution].filter(Boolean).join('\n'));
  for (const [i, { after, floor, who, what }] of entry.moments.entries()) {
    add(`moment-${i + 1}`, after, 0, `${who}: ${what}`, `${clock(floor)} in the music`);
  }
  return good(calendar.toString());
}

type Span = Pick<ICalEventData, 'start' | 'end' | 'timezone' | 'floating'>;

/** Whether the clock shows this once that night, as on nearly all others. */
const isOnce = ({ wall, zoned }: PartyMoment): boolean =>
  wall.toZonedDateTime(zoned!.timeZoneId, { disambiguation: 'earlier' }).equals(zoned!) &&
  wall.toZonedDateTime(zoned!.timeZoneId, { disambiguation: 'later' }).equals(zoned!);

/**
 * In the zone of the party, so that it stays at its hour whatever governments decide; without a zone it is the wall's, wherever
 * the calendar is read. What the clock shows twice that night is written in UTC: it would mean the first time (RFC 5545, 3.3.5),
 * but not every reader takes it so.
 */
function span(from: PartyMoment, to: PartyMoment): Span {
  if (!from.zoned || !to.zoned) return { start: from.wall, end: to.wall, floating: true };
  return isOnce(from) && isOnce(to)
    ? { start: from.wall, end: to.wall, timezone: from.zoned.timeZoneId }
    : { start: from.zoned.toInstant(), end: to.zoned.toInstant(), timezone: 'UTC' };
}
