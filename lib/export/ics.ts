import ical, { type ICalCalendar } from 'ical-generator';
import type { EntryFacts } from '../core/agreed/entry.ts';
import { addSeconds } from '../core/areas/wallClock.ts';
import { effectsCaution } from '../core/dance/cautions.ts';
import { good, type Result } from '../core/result.ts';
import { clock } from '../core/units.ts';
import { calendarTime } from './needs.ts';
import { isZone, vtimezone } from './zones.ts';

/**
 * A wall-clock time where the party is. The calendar library prints a date by the fields of this machine's zone; here these
 * are the wall clock's, whatever zone the machine is in.
 */
class WallTime extends Date {
  constructor(local: string) {
    super(`${local.length === 16 ? `${local}:00` : local}Z`);
  }
  withTimeZone(): this {
    return this;
  }
  override getFullYear = () => this.getUTCFullYear();
  override getMonth = () => this.getUTCMonth();
  override getDate = () => this.getUTCDate();
  override getHours = () => this.getUTCHours();
  override getMinutes = () => this.getUTCMinutes();
  override getSeconds = () => this.getUTCSeconds();
}

/**
 * The run-of-show entry as a calendar (RFC 5545): the dance, and within it the moments of others. Problem: `no-time`.
 * @param id stable id of the board, so that a subscription changes the event and adds none
 * @param stamp instant at which this was written
 */
export function entryIcs(
  entry: EntryFacts,
  about: { id: string; place: string; stamp: Date },
): Result<string> {
  const time = calendarTime(entry);
  if (!time.ok) return time;
  const { startsAt, total } = time.value;
  const zone = entry.zone && isZone(entry.zone) ? entry.zone : null;
  const year = Number(startsAt.slice(0, 4));
  const calendar = ical({
    name: entry.title,
    prodId: { company: 'Larkstep', product: 'first dance', language: 'EN' },
  });
  if (zone) calendar.timezone({ name: zone, generator: (name) => vtimezone(name, year) });
  const add = (uid: string, from: number, seconds: number, summary: string, description: string) =>
    addEvent(calendar, zone, about, {
      id: `${uid}-${about.id}@larkstep`,
      start: new WallTime(addSeconds(startsAt, from)),
      end: new WallTime(addSeconds(startsAt, from + seconds)),
      summary,
      description,
    });
  const facts = Object.entries(entry.facts).map(([label, value]) => `${label}: ${value}`);
  add('dance', 0, total, entry.title, [...facts, effectsCaution].join('\n'));
  for (const [i, { floor, who, what }] of entry.moments.entries()) {
    add(`moment-${i + 1}`, entry.lead + floor, 0, `${who}: ${what}`, `${clock(floor)} in the music`);
  }
  return good(calendar.toString());
}

function addEvent(
  calendar: ICalCalendar,
  zone: string | null,
  about: { place: string; stamp: Date },
  event: { id: string; start: Date; end: Date; summary: string; description: string },
): void {
  calendar.createEvent({
    ...event,
    stamp: about.stamp,
    location: about.place,
    // Without a zone the time is the wall's, wherever the calendar is read.
    ...(zone ? { timezone: zone } : { floating: true }),
  });
}
