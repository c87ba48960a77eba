import { refusalWords } from '../refusal.ts';
import { bad, good, type Result } from '../result.ts';
import type { AreaData, AreaShape } from './area.ts';
import type { Change } from './change.ts';

/** Whether an area that holds these data still fits its shape with the changes: what the server would refuse is said at once. */
export function checkChanges<S extends AreaShape>(
  shape: S,
  data: AreaData<S>,
  changes: readonly Change<S>[],
): Result<true> {
  for (const change of changes) {
    if ('register' in change) {
      if (change.value === null) continue;
      const parsed = shape.registers[change.register]!.safeParse(change.value);
      if (!parsed.success) return bad('invalid', `${change.register}: ${refusalWords(parsed.error)}.`);
      continue;
    }
    if (change.fields === null) continue;
    const entries = (data as Record<string, unknown>)[change.collection] as { id: string }[];
    const entry = entries.find(({ id }) => id === change.id);
    const { id: _id, text: _text, ...before } = (entry ?? {}) as Record<string, unknown>;
    const parsed = shape.collections[change.collection]!.strict().safeParse({ ...before, ...change.fields });
    if (parsed.success) continue;
    const { fields } = change;
    if (!entry && parsed.error.issues.some(({ path: [field] }) => !(String(field) in fields)))
      return bad('gone', 'Somebody else has just taken this away.');
    return bad('invalid', `${change.collection}, ${refusalWords(parsed.error)}.`);
  }
  return good(true);
}
