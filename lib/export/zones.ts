/** Rules of a time zone as iCalendar wants them beside an event, from the platform's own table of zones. */

/** Minutes east of UTC at an instant. */
function offsetAt(zone: string, instant: number): number {
  const parts = new Intl.DateTimeFormat('en-US', {
    timeZone: zone,
    hourCycle: 'h23',
    year: 'numeric',
    month: 'numeric',
    day: 'numeric',
    hour: 'numeric',
    minute: 'numeric',
    second: 'numeric',
  }).formatToParts(instant);
  const part = (type: string) => Number(parts.find((one) => one.type === type)?.value);
  const wall = Date.UTC(
    part('year'),
    part('month') - 1,
    part('day'),
    part('hour'),
    part('minute'),
    part('second'),
  );
  return Math.round((wall - instant) / 60_000);
}

export function isZone(zone: string): boolean {
  try {
    new Intl.DateTimeFormat('en-US', { timeZone: zone });
    return zone !== '';
  } catch {
    return false;
  }
}

const HOUR = 3_600_000;

/** Instants at which the zone's offset changes between two instants, to the minute. */
function changes(zone: string, from: number, to: number): { at: number; before: number; after: number }[] {
  const found: { at: number; before: number; after: number }[] = [];
  const step = 24 * HOUR;
  for (let day = from; day < to; day += step) {
    const before = offsetAt(zone, day);
    const after = offsetAt(zone, day + step);
    if (before === after) continue;
    let [low, high] = [day, day + step];
    while (high - low > 60_000) {
      const middle = low + Math.floor((high - low) / 120_000) * 60_000;
      if (offsetAt(zone, middle) === before) low = middle;
      else high = middle;
    }
    found.push({ at: high, before, after });
  }
  return found;
}

const two = (n: number): string => String(Math.floor(n)).padStart(2, '0');
const offset = (minutes: number): string =>
  `${minutes < 0 ? '-' : '+'}${two(Math.abs(minutes) / 60)}${two(Math.abs(minutes) % 60)}`;
const local = (instant: number): string => new Date(instant).toISOString().replace(/[-:]/g, '').slice(0, 15);

/**
 * VTIMEZONE (RFC 5545, 3.6.5) of a zone, right for the years around one: one observance for what holds at the beginning,
 * and one for each change.
 */
export function vtimezone(zone: string, year: number): string {
  const from = Date.UTC(year - 1, 0, 1);
  const first = offsetAt(zone, from);
  const all = [{ at: from, before: first, after: first }, ...changes(zone, from, Date.UTC(year + 2, 0, 1))];
  const standard = Math.min(...all.map(({ after }) => after));
  const observances = all.flatMap(({ at, before, after }) => {
    const kind = after > standard ? 'DAYLIGHT' : 'STANDARD';
    return [
      `BEGIN:${kind}`,
      `DTSTART:${local(at + before * 60_000)}`,
      `TZOFFSETFROM:${offset(before)}`,
      `TZOFFSETTO:${offset(after)}`,
      `END:${kind}`,
    ];
  });
  return ['BEGIN:VTIMEZONE', `TZID:${zone}`, ...observances, 'END:VTIMEZONE'].join('\r\n');
}
