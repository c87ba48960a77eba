import type { AreaData, AreaShape } from './area.ts';
import type { Plan, planShape } from './plan.ts';

/**
 * One step of a change to an area, as data: a fix carries these, the screens apply them to the shared document and the
 * tests to plain data, with the same meaning. `value: null` clears a register; `fields: null` deletes an entry; other
 * fields are set on the entry, which is created when it is missing.
 */
export type Change<S extends AreaShape> =
  | { [K in keyof S['registers'] & string]: { register: K; value: AreaData<S>[K] } }[keyof S['registers'] &
      string]
  | {
      [K in keyof S['collections'] & string]: {
        collection: K;
        id: string;
        fields: Partial<Omit<AreaData<S>[K] extends (infer E)[] ? E : never, 'id' | 'text'>> | null;
      };
    }[keyof S['collections'] & string];

export type PlanChange = Change<typeof planShape>;

/** The plan after the changes; the argument is not altered. */
export const changePlan = (plan: Plan, changes: readonly PlanChange[]): Plan =>
  changeArea<typeof planShape>(plan, changes);

/** The same of any area. */
export function changeArea<S extends AreaShape>(
  data: AreaData<S>,
  changes: readonly Change<S>[],
): AreaData<S> {
  const next: Record<string, unknown> = { ...data };
  const lists = new Map<string, Map<string, { id: string }>>();
  for (const change of changes) {
    if ('register' in change) {
      next[change.register] = change.value;
      continue;
    }
    const { collection, id, fields } = change;
    const entries = lists.get(collection) ?? byId(next[collection] as { id: string }[]);
    lists.set(collection, entries);
    if (fields === null) entries.delete(id);
    else entries.set(id, { ...entries.get(id), ...fields, id });
  }
  for (const [collection, entries] of lists)
    next[collection] = [...entries.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
  return next as AreaData<S>;
}

const byId = <E extends { id: string }>(entries: readonly E[]): Map<string, E> =>
  new Map(entries.map((entry) => [entry.id, entry]));
