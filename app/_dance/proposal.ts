import type { PlanChange } from '@/lib/core/areas/change.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { boardScore } from '@/lib/core/areas/score.ts';
import { bothEnds } from '@/lib/core/dance/bothEnds.ts';
import type { Ending } from '@/lib/core/dance/move.ts';
import { type ProposedDance, proposing, type Wishes } from '@/lib/core/dance/proposeDance.ts';
import { same } from '@/lib/core/edit/canonical.ts';
import type { Begun } from '../_client/laterParts.ts';

type Placed = Plan['placed'][number];

/** What is asked of the worker: dances around what stands on the sheet, or whole ones anew. */
export interface Asked {
  plan: Plan;
  wishes: Wishes;
  anew: boolean;
  /** On what the closing pose lands where there is no ending yet; null where no such count is known. */
  landing: Ending['target'] | null;
}

/** A proposal as changes to the plan, one step of undo. */
export interface Offered extends Omit<ProposedDance, 'changes'> {
  changes: PlanChange[];
  /** First step and ending where the plan lacked them, a sentence each. */
  ends: string[];
}

export interface Offers {
  dances: Offered[];
  problem: string;
}

export type Said = Begun | { share: number } | { offers: Offers };

/** Dances for a plan; each step tells which part of the work is done. */
export function* offering({ plan, wishes, anew, landing }: Asked): Generator<number, Offers> {
  const score = boardScore(plan);
  if (!score) return { dances: [], problem: '' };
  // The moves are put between the ends that are taken along with them.
  const ends = bothEnds(plan, score, landing);
  const placed = anew ? [] : plan.placed;
  const { dances, problem } = yield* proposing({ ...ends.plan, placed }, score, wishes);
  return {
    dances: dances.map((dance) => {
      const changes = [...ends.changes, ...(anew ? inPlaceOf(plan, dance) : dance.changes)];
      return { ...dance, changes, ends: ends.words };
    }),
    problem,
  };
}

/** A whole dance anew: what stands on the sheet is taken away in the same step, but for what is proposed again. */
function inPlaceOf(plan: Plan, dance: ProposedDance): PlanChange[] {
  const isAgain =
    ({ move, at, times }: Placed) =>
    (change: PlanChange) =>
      'collection' in change && change.collection === 'placed' && same(change.fields, { move, at, times });
  const stays = plan.placed.filter((one) => dance.changes.some(isAgain(one)));
  const taken = plan.placed
    .filter((one) => !stays.includes(one))
    .map(({ id }): PlanChange => ({ collection: 'placed', id, fields: null }));
  const added = dance.changes.filter((change) => !stays.some((one) => isAgain(one)(change)));
  return [...taken, ...added];
}
