import { LENGTH_OPEN, POSE_LEFT_OUT, POSE_MISSING } from '../agreed/entry.ts';
import type { Role } from '../areas/people.ts';
import type { Plan } from '../areas/plan.ts';

/** Who shapes the dance itself. */
export const US = 'couple or instructor';

/** What they owe of the run-of-show entry, by the words of `entryFacts(...).missing`; the rest is the evening's. */
const ours = ['the date', 'the song', POSE_MISSING, POSE_LEFT_OUT];

export const ownerOfEvening = ({ eveningBy }: Plan): string => (eveningBy === 'nobody' ? US : 'planner');

/** Who owes what the entry still lacks. */
export const owedBy = (missing: string, plan: Plan): string =>
  missing === LENGTH_OPEN ? 'DJ' : ours.includes(missing) ? US : ownerOfEvening(plan);

/** Whether somebody of this role is among those by whom a stage is owed (`Stage.owedBy`). */
export function owes(role: Role, by: string | null): boolean {
  if (role === 'instructor' || role === 'couple') return by === US;
  return by !== null && (role === 'dj' ? by === 'DJ' : role === by);
}
