import type { AreaData, AreaShape } from '../core/areas/area.ts';
import type { Change } from '../core/areas/change.ts';
import { same } from '../core/edit/canonical.ts';

type Fields = Record<string, unknown>;
type Entry = Fields & { id: string };

/** The changes that lead from one state of an area to another. Rich texts are no part of them. */
export function changesBetween<S extends AreaShape>(
  shape: S,
  before: AreaData<S>,
  after: AreaData<S>,
): Change<S>[] {
  const [was, is] = [before, after] as [Fields, Fields];
  const registers = Object.keys(shape.registers)
    .filter((register) => differs(was[register], is[register]))
    .map((register) => ({ register, value: is[register] ?? null }));
  const entries = Object.keys(shape.collections).flatMap((collection) =>
    was[collection] === is[collection]
      ? []
      : entryChanges((was[collection] ?? []) as Entry[], (is[collection] ?? []) as Entry[]).map((change) => ({
          collection,
          ...change,
        })),
  );
  return [...registers, ...entries] as Change<S>[];
}

interface EntryChange {
  id: string;
  fields: Fields | null;
}

function entryChanges(before: readonly Entry[], after: readonly Entry[]): EntryChange[] {
  const was = new Map(before.map((entry) => [entry.id, entry]));
  const is = new Set(after.map(({ id }) => id));
  const gone = before.filter(({ id }) => !is.has(id)).map(({ id }) => ({ id, fields: null }));
  return [...gone, ...after.flatMap((entry) => changesOf(was.get(entry.id), entry))];
}

function changesOf(before: Entry | undefined, after: Entry): EntryChange[] {
  if (before === after) return [];
  const { id, text: _text, ...fields } = after;
  if (!before) return [{ id, fields }];
  // A change sets fields and removes none: then the entry is made anew.
  if (Object.keys(before).some((name) => !Object.hasOwn(after, name)))
    return [
      { id, fields: null },
      { id, fields },
    ];
  const changed = Object.entries(fields).filter(([name, value]) => differs(before[name], value));
  return changed.length === 0 ? [] : [{ id, fields: Object.fromEntries(changed) }];
}

/** Plain data; unset is null, or not there at all. */
const differs = (a: unknown = null, b: unknown = null): boolean =>
  a !== b && (a === null || b === null || !same(a, b));
