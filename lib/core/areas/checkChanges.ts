import { refusalWords } from '../refusal.ts';
import { bad, good, type Result } from '../result.ts';
import type { AreaData, AreaShape } from './area.ts';
import type { Change } from './change.ts';
import { strictOf } from './strict.ts';

/** Whether an area that holds these data still fits its shape with the changes: what the server would refuse is said at once. */
export function checkChanges<S extends AreaShape>(
  shape: S,
  data: AreaData<S>,
  changes: readonly Change<S>[],
): Result<true> {
  const found = new Map<string, Map<string, unknown>>();
  for (const change of changes) {
    if ('register' in change) {
      if (change.value === null) continue;
      const parsed = shape.registers[change.register]!.safeParse(change.value);
      if (!parsed.success) return bad('invalid', `${change.register}: ${refusalWords(parsed.error)}.`);
      continue;
    }
    if (change.fields === null) continue;
    const entries = found.get(change.collection) ?? entriesById(data, change.collection);
    found.set(change.collection, entries);
    const entry = entries.get(change.id);
    const { id: _id, text: _text, ...before } = (entry ?? {}) as Record<string, unknown>;
    const parsed = strictOf(shape.collections[change.collection]!).safeParse({
      ...before,
      ...change.fields,
    });
    if (parsed.success) continue;
    const { fields } = change;
    if (!entry && parsed.error.issues.some(({ path: [field] }) => !(String(field) in fields)))
      return bad('gone', 'Somebody else has just taken this away.');
    return bad('invalid', `${change.collection}, ${refusalWords(parsed.error)}.`);
  }
  return good(true);
}

function entriesById<S extends AreaShape>(data: AreaData<S>, collection: string): Map<string, unknown> {
  const entries = (data as Record<string, unknown>)[collection] as { id: string }[];
  return new Map(entries.map((entry) => [entry.id, entry]));
}
