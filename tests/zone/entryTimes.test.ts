import { describe, expect, it } from 'vitest';
import type { WallTime } from '../../lib/core/calendar.ts';
import { elsewhere, entryTimes } from '../../lib/zone/entryTimes.ts';

const times = (startsAt: WallTime, zone: string | null) => entryTimes({ startsAt, zone })!;

// Rules of the European Union (Directive 2000/84/EC): clocks change at 01:00 UTC on the last Sundays of March and October.
describe('a night in which the clocks are changed', () => {
  it('an hour that is skipped is skipped on the clock', () => {
    const spring = times('2027-03-28T01:59:30', 'Europe/Berlin');
    expect([0, 29, 30, 60].map(spring.clock)).toEqual(['01:59:30', '01:59:59', '03:00:00', '03:00:30']);
    expect(spring.note).toBe('');
  });

  it('an hour that comes twice comes twice', () => {
    const autumn = times('2027-10-31T02:59:30', 'Europe/Berlin');
    expect([0, 29, 30, 3630].map(autumn.clock)).toEqual(['02:59:30', '02:59:59', '02:00:00', '03:00:00']);
    expect(autumn.note).toBe(
      'The clocks are set back that night, and 02:59:30 comes twice: this is the first of them.',
    );
  });

  it('a beginning that is skipped is said to be, and counts on from before it (RFC 5545, 3.3.5)', () => {
    const skipped = times('2027-03-28T02:30', 'Europe/Berlin');
    expect(skipped.clock(60)).toBe('03:31:00');
    expect(skipped.note).toBe(
      'The clocks are set forward that night, and 02:30 is skipped: it is 03:30 then.',
    );
  });

  it('is no matter where nobody knows the zone', () => {
    for (const zone of [null, '', 'Nowhere/Land']) {
      const plain = times('2027-10-31T02:59:30', zone);
      expect([plain.clock(30), plain.note, plain.at(0).zoned]).toEqual(['03:00:00', '', null]);
    }
  });
});

describe('the beginning elsewhere', () => {
  it('is said where it is another time', () => {
    const start = times('2027-06-12T20:45', 'Europe/Lisbon').at(0);
    expect(elsewhere(start, 'Europe/Lisbon')).toBeNull();
    // Both keep the same time (Western European Time, the same rules).
    expect(elsewhere(start, 'Europe/London')).toBeNull();
    expect(elsewhere(start, 'Europe/Berlin')).toEqual({ time: '21:45', day: null });
    expect(elsewhere(start, 'Pacific/Auckland')).toEqual({ time: '07:45', day: '2027-06-13' });
    expect(elsewhere(times('2027-06-12T20:45', null).at(0), 'Europe/Berlin')).toBeNull();
  });
});
