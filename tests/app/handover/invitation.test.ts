import { describe, expect, test } from 'vitest';
import { invitation, spans } from '../../../app/_studio/invitation.ts';
import { emptyBoard } from '../../../lib/core/areas/empty.ts';
import type { Day } from '../../../lib/core/calendar.ts';
import { newLinkRequest } from '../../../lib/protocol/api.ts';

const plan = {
  ...emptyBoard().plan,
  couple: { one: { name: 'Noor', part: 'follow' as const }, other: { name: 'Elias', part: 'lead' as const } },
  date: '2027-06-12' as const,
  venue: 'the Glasshouse',
};

describe('an invitation', () => {
  test('names the couple, the day and the place, and holds the link on a line of its own', () => {
    const text = invitation(plan, 'dj', 'https://example.org/join/abc', 'Mara');
    expect(text).toContain('first dance of Noor and Elias, on 12 June 2027, at the Glasshouse.');
    expect(text.split('\n')).toContain('https://example.org/join/abc');
    expect(text.endsWith('Mara')).toBe(true);
  });
  test('reads well when nothing is known yet', () => {
    expect(invitation(emptyBoard().plan, 'planner', 'https://example.org/join/abc', '')).toMatch(
      /^Hello, this is about the first dance of the couple\.\n/,
    );
  });
});

describe('how long a link holds', () => {
  test('first offers two weeks past the day', () =>
    expect(spans('2027-06-01', '2027-06-12')[0]).toEqual({
      words: 'until 26 June 2027, two weeks after the day',
      days: 25,
    }));
  test.each<[string, Day | null]>([
    ['no day', null],
    ['a day that has passed', '2027-05-01'],
    ['a day too far off', '2031-06-12'],
  ])('does not with %s', (_what, date) => expect(spans('2027-06-01', date)[0]?.days).toBe(30));
  test('every span is one that the server takes', () => {
    for (const date of [null, '2027-06-01', '2029-05-17', '2029-05-18', '2040-01-01'] as const)
      for (const { days } of spans('2027-06-01', date))
        expect(newLinkRequest.safeParse({ role: 'dj', days }).success).toBe(true);
  });
});
