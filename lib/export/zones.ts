import { Temporal } from 'temporal-polyfill';

/** Rules of a time zone as iCalendar wants them beside an event, from the platform's own table of zones. */

const two = (n: number): string => String(n).padStart(2, '0');

/** `+0530`, with seconds only where there are some: of an offset in nanoseconds. */
function offset(nanoseconds: number): string {
  const size = Math.round(Math.abs(nanoseconds) / 1e9);
  const seconds = size % 60 ? two(size % 60) : '';
  return `${nanoseconds < 0 ? '-' : '+'}${two(Math.floor(size / 3600))}${two(Math.floor(size / 60) % 60)}${seconds}`;
}

const local = (wall: Temporal.PlainDateTime): string =>
  wall.toString({ smallestUnit: 'second' }).replace(/[-:]/g, '');

/** What the clock shows at an instant when it is an offset ahead of UTC. */
const onset = (at: Temporal.ZonedDateTime, nanoseconds: number): Temporal.PlainDateTime =>
  at.withTimeZone('UTC').toPlainDateTime().add({ nanoseconds });

/**
 * VTIMEZONE (RFC 5545, 3.6.5) of a zone, right for the years around one: one observance for what holds at the beginning,
 * and one for each change.
 */
export function vtimezone(zone: string, year: number): string {
  const from = new Temporal.PlainDate(year - 1, 1, 1).toZonedDateTime(zone);
  const all = [{ at: from, before: from.offsetNanoseconds, after: from.offsetNanoseconds }];
  for (
    let at = from.getTimeZoneTransition('next');
    at && at.year < year + 2;
    at = at.getTimeZoneTransition('next')
  )
    all.push({ at, before: at.subtract({ nanoseconds: 1 }).offsetNanoseconds, after: at.offsetNanoseconds });
  const standard = Math.min(...all.map(({ after }) => after));
  const observances = all.flatMap(({ at, before, after }) => {
    const kind = after > standard ? 'DAYLIGHT' : 'STANDARD';
    return [
      `BEGIN:${kind}`,
      `DTSTART:${local(onset(at, before))}`,
      `TZOFFSETFROM:${offset(before)}`,
      `TZOFFSETTO:${offset(after)}`,
      `END:${kind}`,
    ];
  });
  return ['BEGIN:VTIMEZONE', `TZID:${zone}`, ...observances, 'END:VTIMEZONE'].join('\r\n');
}
