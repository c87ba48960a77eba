import { describe, expect, it } from 'vitest';
import type { Presence } from '../../../app/_client/boardState.ts';
import { seatsOf } from '../../../app/_ui/seats.ts';
import { emptyBoard } from '../../../lib/core/areas/empty.ts';
import type { Plan } from '../../../lib/core/areas/plan.ts';

const plan: Plan = { ...emptyBoard().plan, musicBy: 'dj', eveningBy: 'planner' };
const person = (key: number, role: Presence['role'], name = '', me = false): Presence => ({
  ...{ key, role, name, me, at: '' },
});
const told = (people: Presence[], of = plan) =>
  seatsOf(people, of).map(({ words, letters, here }) => `${letters} ${words}${here ? '' : ' -'}`);

describe('who is here, and who is not', () => {
  it('tells couple and crew apart', () => {
    expect(told([person(1, 'couple'), person(2, 'crew')])).toEqual(
      expect.arrayContaining(['Co couple', 'Cr crew']),
    );
  });
  it('shows whom the evening needs and who is away, the crew only when they are here', () => {
    expect(told([person(1, 'instructor', 'Marit', true)])).toEqual([
      'M Marit',
      'C couple -',
      'DJ DJ -',
      'P planner -',
    ]);
  });
  it('names a couple who are away, and asks for no DJ of a band and no planner of an evening without one', () => {
    const of: Plan = { ...plan, couple: COUPLE, musicBy: 'band', eveningBy: 'nobody' };
    expect(told([person(1, 'instructor', 'Marit', true)], of)).toEqual(['M Marit', 'RC Runa & Casimir -']);
  });
  it('gives two who share a first letter two, in any alphabet', () => {
    expect(told([person(1, 'couple', 'Άννα'), person(2, 'couple', 'Άρης')]).slice(0, 2)).toEqual([
      'Άν Άννα',
      'Άρ Άρης',
    ]);
  });
});

const COUPLE = {
  one: { name: 'Runa', part: 'lead' as const },
  other: { name: 'Casimir', part: 'follow' as const },
};
