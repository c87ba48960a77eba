import { expect, test } from 'vitest';
import { type Couple, leader, ledBy } from '../../../lib/core/areas/people.ts';

const couple = (one: 'lead' | 'follow', other: 'lead' | 'follow'): Couple => ({
  one: { name: 'Noor', part: one },
  other: { name: 'Elias', part: other },
});

test.each([
  [couple('lead', 'follow'), 'one'],
  [couple('follow', 'lead'), 'other'],
  // What two screens at once may leave behind: somebody leads all the same.
  [couple('lead', 'lead'), 'one'],
  [couple('follow', 'follow'), 'one'],
] as const)('one of the two leads (%#)', (two, who) => expect(leader(two)).toBe(who));

test('either may lead, and then the other follows', () => {
  expect(ledBy(couple('lead', 'lead'), 'other')).toEqual(couple('follow', 'lead'));
  expect(ledBy(couple('follow', 'lead'), 'one')).toEqual(couple('lead', 'follow'));
});
