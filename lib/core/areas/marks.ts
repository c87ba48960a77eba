import { same } from '../edit/canonical.ts';
import { z } from '../zod.ts';
import type { PlanChange } from './change.ts';
import { liftedPlan } from './earlier.ts';
import { fieldsWith } from './field.ts';
import { type Plan, planShape } from './plan.ts';

const { registers: ofRegister, collections: ofList } = planShape;
/** What a mark holds of the song. While song and edit are settled, going back leaves these as they are. */
const song = fieldsWith(ofRegister, { of: 'song' });
const songLists = fieldsWith(ofList, { of: 'song' });
const dance = fieldsWith(ofRegister, { of: 'dance' });
const danceLists = fieldsWith(ofList, { of: 'dance' });
/** Large: a mark of the same recording needs no copy of them. */
const measured = fieldsWith(ofRegister, { of: 'measured' });

const registers = [...song, ...dance];
const lists = [...songLists, ...danceLists];
type Kept = Pick<Plan, (typeof registers)[number] | (typeof lists)[number]>;

const kept = z.object(
  Object.fromEntries([
    ...registers.map((name) => [name, z.nullable(planShape.registers[name])]),
    ...lists.map((name) => [
      name,
      z.array(z.extend(planShape.collections[name], { id: z.string().check(z.maxLength(60)) })),
    ]),
  ]),
) as unknown as z.ZodType<Kept>;

/** The song and the dance of a plan, as a mark keeps them: JSON. People, date and hand-over are not a matter of rehearsal. */
export const markedState = (plan: Plan): string =>
  JSON.stringify(Object.fromEntries([...registers, ...lists].map((name) => [name, plan[name]])));

/**
 * The plan as it was at a mark, whichever version made it, with today's people, date and hand-over; null when it cannot be read.
 * What was measured of the music goes with its recording: of another than today's it is unknown.
 */
export function planAt(plan: Plan, state: string): Plan | null {
  let read: unknown;
  try {
    read = JSON.parse(state);
  } catch {
    return null;
  }
  const parsed = kept.safeParse(liftedPlan(read));
  if (!parsed.success) return null;
  const then = { ...plan, ...parsed.data };
  if (then.recording?.id !== plan.recording?.id) for (const name of measured) then[name] = null;
  return then;
}

/**
 * The changes that lead from a plan to another state of it, as one step. Settled song and edit stay as they are: moves keep their
 * place in the recording, so that they lie right in either.
 */
export function changesTo(plan: Plan, then: Plan): PlanChange[] {
  const open = plan.settled === null;
  const names = open ? [...registers, ...measured] : dance;
  const registerChanges = names
    .filter((name) => !same(plan[name], then[name]))
    .map((register) => ({ register, value: then[register] }) as PlanChange);
  const listChanges = (open ? lists : danceLists).flatMap((collection) => {
    const before = new Map<string, object>(plan[collection].map((entry) => [entry.id, entry]));
    const after = new Map<string, object>(then[collection].map((entry) => [entry.id, entry]));
    const gone = [...before.keys()].filter((id) => !after.has(id));
    const changed = [...after].filter(([id, entry]) => !same(before.get(id) ?? null, entry));
    return [
      ...gone.map((id) => ({ collection, id, fields: null }) as PlanChange),
      ...changed.map(([id, entry]) => {
        const { id: _, ...fields } = entry as { id: string };
        return { collection, id, fields } as PlanChange;
      }),
    ];
  });
  return [...registerChanges, ...listChanges];
}
