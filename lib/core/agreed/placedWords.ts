import type { Plan } from '../areas/plan.ts';
import { floorOf } from '../dance/clock.ts';
import { clock } from '../units.ts';

/** A move on the sheet, as people find it again: `Underarm turn at 1:20`. */
export function placedWords(plan: Plan, { move, at }: Plan['placed'][number]): string {
  const floor = floorOf(plan, at);
  const name = plan.moves.find(({ id }) => id === move)?.name ?? 'a move';
  return floor === null ? `${name}, left out by the edit` : `${name} at ${clock(floor)}`;
}
