import type { PlanChange } from '@/lib/core/areas/change.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import type { Readiness } from '@/lib/core/dance/practice.ts';
import { type DanceProposal, proposeDance } from '@/lib/core/dance/proposeDance.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';

/** A proposal as changes to the plan, one step of undo. */
export interface Offered extends Omit<DanceProposal, 'changes'> {
  changes: PlanChange[];
}

/** Moves for the section changes that have none; what stands on the sheet stays. */
export const proposeAround = (plan: Plan, score: FloorScore, readiness: readonly Readiness[]): Offered => ({
  ...proposeDance(plan, score, readiness),
});

/** A whole dance anew: what stands on the sheet is taken away in the same step. */
export function proposeAnew(plan: Plan, score: FloorScore, readiness: readonly Readiness[]): Offered {
  const proposal = proposeDance({ ...plan, placed: [] }, score, readiness);
  const again = new Set(proposal.changes.map((change) => ('id' in change ? change.id : '')));
  const taken: PlanChange[] = plan.placed
    .filter(({ id }) => !again.has(id))
    .map(({ id }) => ({ collection: 'placed', id, fields: null }));
  return { ...proposal, changes: [...taken, ...proposal.changes] };
}
