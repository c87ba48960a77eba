import { Temporal } from 'temporal-polyfill';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { whenDayTurns } from '../../app/_client/dayTurns.ts';
import { dayIn } from '../../lib/zone/dayIn.ts';
import { isZone } from '../../lib/zone/isZone.ts';
import { wallAt } from '../kit/wall.ts';

describe('today', () => {
  // Worked example: at 11:30 UTC on 31 December it is half past midnight on 1 January in Auckland (UTC+13 in summer).
  const at = new Date('2027-12-31T11:30:00.000Z');

  it('is the day where the party is, before that of who reads', () => {
    expect(dayIn('Pacific/Auckland', 'America/Los_Angeles', at)).toBe('2028-01-01');
    expect(dayIn('America/Los_Angeles', 'Pacific/Auckland', at)).toBe('2027-12-31');
  });

  it('is the reader’s where nobody knows the party’s zone', () => {
    for (const none of [null, undefined, '', 'Nowhere/Land'])
      expect(dayIn(none, 'Pacific/Auckland', at)).toBe('2028-01-01');
    const here = Intl.DateTimeFormat().resolvedOptions().timeZone;
    expect(dayIn(null, null, at)).toBe(wallAt(here, at.getTime()).slice(0, 10));
    expect(dayIn('Nowhere/Land', 'Nowhere/Else', at)).toBe(wallAt(here, at.getTime()).slice(0, 10));
  });

  it('is right in every zone, at the turn of a year and after a leap day', () => {
    const instants = ['2027-12-31T23:50:00Z', '2028-03-01T11:30:00Z'];
    // By Temporal (TC39), which does not go by how a language writes a date.
    for (const zone of Intl.supportedValuesOf('timeZone'))
      for (const instant of instants) {
        const there = Temporal.Instant.from(instant).toZonedDateTimeISO(zone);
        expect(dayIn(zone, null, new Date(instant)), zone).toBe(there.toPlainDate().toString());
      }
  });

  it('knows what is a zone', () => {
    expect([isZone('Asia/Kathmandu'), isZone('UTC'), isZone(''), isZone('Nowhere/Land')]).toEqual([
      true,
      true,
      false,
      false,
    ]);
  });
});

describe('a page that stays open past midnight', () => {
  beforeEach(() => void vi.useFakeTimers({ now: new Date('2027-06-12T21:59:30.000Z') }));
  afterEach(() => void vi.useRealTimers());

  it('is told once, within half a minute, by the clock where the party is', () => {
    const days: string[] = [];
    // UTC+2 in summer: midnight is at 22:00 UTC.
    const day = () => dayIn('Europe/Berlin');
    const stop = whenDayTurns(day, () => days.push(day()));
    vi.advanceTimersByTime(29_000);
    expect(days).toEqual([]);
    vi.advanceTimersByTime(30_000);
    expect(days).toEqual(['2027-06-13']);
    vi.advanceTimersByTime(3_600_000);
    expect(days).toEqual(['2027-06-13']);
    stop();
    vi.advanceTimersByTime(86_400_000);
    expect(days).toEqual(['2027-06-13']);
  });
});
