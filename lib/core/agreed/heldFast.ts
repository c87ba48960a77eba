import type { Board } from '../areas/board.ts';
import type { PlanChange } from '../areas/change.ts';
import { fieldsWith } from '../areas/field.ts';
import { type Plan, planShape } from '../areas/plan.ts';
import { same } from '../edit/canonical.ts';

const { registers, collections } = planShape;
const settling = [
  ...fieldsWith(registers, { settles: true }),
  ...fieldsWith(collections, { settles: true }),
] as const satisfies readonly (keyof Plan)[];

/** Opens settled song and edit again, in the very change for which somebody said yes to that. */
export const LIFTED: PlanChange = { register: 'settled', value: null };

/** What a change alters of settled song and edit without lifting that, in a sentence; null where nothing. */
export function heldFast({ plan: before }: Board, { plan: after }: Board): string | null {
  const { settled } = before;
  if (!settled || !after.settled || before === after) return null;
  const touched = settling.find((name) => !same(before[name], after[name]));
  return touched === undefined
    ? null
    : `${settled.by || 'The instructor'} has settled song and edit: open them again on the song page first.`;
}
