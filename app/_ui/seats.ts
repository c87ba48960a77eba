import { type Role, role as roles } from '@/lib/core/areas/people.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import type { Presence } from '../_client/boardState.ts';
import { roleWords } from './roles.ts';

/** Somebody who belongs to a board, here or not. */
export interface Seat {
  key: string;
  /** "Inês", or "couple" where no name is known. */
  words: string;
  /** One or two letters for the circle, told apart from all others. */
  letters: string;
  role: Role;
  here: boolean;
  me: boolean;
}

/** Those who are here, by role and then as they came; then whom the evening needs and who is not. */
export function seatsOf(people: readonly Presence[], { couple, musicBy, eveningBy }: SeatPlan): Seat[] {
  const here = [...people]
    .sort((a, b) => roles.options.indexOf(a.role) - roles.options.indexOf(b.role))
    .map(({ key, name, role, me }) => ({
      ...{ key: String(key), role, me, here: true },
      words: name || roleWords[role],
    }));
  const expected = roles.options.filter(
    (role) =>
      role !== 'crew' &&
      !(role === 'dj' && musicBy === 'band') &&
      !(role === 'planner' && eveningBy === 'nobody'),
  );
  const absent = expected
    .filter((role) => !here.some((one) => one.role === role))
    .map((role) => ({
      ...{ key: role as string, role, me: false, here: false },
      words: role === 'couple' && couple ? `${couple.one.name} & ${couple.other.name}` : roleWords[role],
    }));
  const seats = [...here, ...absent];
  const letters = apart(seats.map(({ words }) => words));
  return seats.map((seat, i) => ({ ...seat, letters: letters[i]! }));
}
type SeatPlan = Pick<Plan, 'couple' | 'musicBy' | 'eveningBy'>;

/** First letters, whatever the alphabet; two where one is shared; those of both names of a couple. "DJ" stays. */
function apart(all: readonly string[]): string[] {
  const letters = (words: string, n: number) => [...words.trim()].slice(0, n).join('');
  const first = all.map((words) => {
    if (words === roleWords.dj) return words;
    const [one, other] = words.split(' & ');
    return (other ? letters(one!, 1) + letters(other, 1) : letters(words, 1)).toUpperCase();
  });
  return first.map((own, i) => {
    const isShared = first.some((other, k) => k !== i && other === own && all[k] !== all[i]);
    const two = letters(all[i]!, 2);
    return isShared && own.length === 1 ? two.charAt(0).toUpperCase() + two.slice(1) : own;
  });
}
