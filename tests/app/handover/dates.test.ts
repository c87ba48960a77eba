import { describe, expect, test } from 'vitest';
import { byDate } from '../../../app/_studio/byDate.ts';
import { farWords, nowAfter } from '../../../app/_studio/dates.ts';
import { dayWords } from '../../../lib/core/areas/days.ts';
import type { Day } from '../../../lib/core/calendar.ts';
import type { BoardSummary } from '../../../lib/protocol/api.ts';

describe('dates', () => {
  test('are spelled out', () => expect(dayWords('2027-06-12')).toBe('12 June 2027'));
  test('a reply counts as later than what it replies to, on a device whose clock is behind, too', () => {
    const now = Date.parse('2027-05-01T10:00:00.000Z');
    expect(nowAfter(['2027-04-30T10:00:00.000Z'], now)).toBe('2027-05-01T10:00:00.000Z');
    const late = '2027-05-01T10:00:00.000Z' as const;
    // Instants are compared as text, where a fraction of the same second would come before it.
    expect(nowAfter([late], now) > late).toBe(true);
    expect(nowAfter([], now)).toBe('2027-05-01T10:00:00.000Z');
  });
  test.each<[Day, string]>([
    ['2027-06-12', 'today'],
    ['2027-06-13', 'tomorrow'],
    ['2027-06-11', 'yesterday'],
    ['2027-06-25', 'in 13 days'],
    ['2027-07-02', 'in 2 weeks'],
    ['2028-06-12', 'in 12 months'],
    ['2027-05-01', '6 weeks ago'],
  ])('say how far %s is', (date, words) => expect(farWords('2027-06-12', date)).toBe(words));
});

const board = (one: string, date: Day | null): BoardSummary => ({
  id: one,
  one,
  other: 'B',
  date,
  zone: null,
  today: '2027-06-12',
  venue: '',
  song: [],
  floorLength: null,
  strip: null,
  findings: { blocks: 0, warns: 0, hints: 0 },
  lacks: [],
  questions: { open: 0, unread: 0 },
  owed: [],
  apart: null,
});

test('couples stand under three headings, in the order in which they came', () => {
  const all = [
    board('tonight', '2027-06-12'),
    board('later', '2027-09-01'),
    board('open', null),
    board('lately', '2027-06-11'),
    board('past', '2027-01-01'),
  ];
  const sorted = byDate(all);
  expect(sorted.coming.map(({ id }) => id)).toEqual(['tonight', 'later']);
  expect(sorted.undated.map(({ id }) => id)).toEqual(['open']);
  expect(sorted.danced.map(({ id }) => id)).toEqual(['lately', 'past']);
});
