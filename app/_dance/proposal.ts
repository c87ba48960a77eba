import type { PlanChange } from '@/lib/core/areas/change.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import type { Readiness } from '@/lib/core/dance/practice.ts';
import { type DanceProposal, proposeDance } from '@/lib/core/dance/proposeDance.ts';
import { same } from '@/lib/core/edit/canonical.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';

type Placed = Plan['placed'][number];

/** A proposal as changes to the plan, one step of undo. */
export interface Offered extends Omit<DanceProposal, 'changes'> {
  changes: PlanChange[];
}

/** Moves for the section changes that have none; what stands on the sheet stays. */
export const proposeAround = (plan: Plan, score: FloorScore, readiness: readonly Readiness[]): Offered => ({
  ...proposeDance(plan, score, readiness),
});

/** A whole dance anew: what stands on the sheet is taken away in the same step, but for what is proposed again. */
export function proposeAnew(plan: Plan, score: FloorScore, readiness: readonly Readiness[]): Offered {
  const proposal = proposeDance({ ...plan, placed: [] }, score, readiness);
  const isAgain =
    ({ move, at, times }: Placed) =>
    (change: PlanChange) =>
      'collection' in change && same(change.fields, { move, at, times });
  const stays = plan.placed.filter((one) => proposal.changes.some(isAgain(one)));
  const taken = plan.placed
    .filter((one) => !stays.includes(one))
    .map(({ id }): PlanChange => ({ collection: 'placed', id, fields: null }));
  const added = proposal.changes.filter((change) => !stays.some((one) => isAgain(one)(change)));
  return { ...proposal, changes: [...taken, ...added] };
}
