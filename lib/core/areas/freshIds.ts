import { isNewEntry } from '../dance/newEntry.ts';
import type { AreaShape } from './area.ts';
import type { Change } from './change.ts';

/**
 * The changes of a suggestion with a fresh id for each entry that it makes, so that whatever is suggested later never meets, and
 * moves back, what a person has moved since.
 * @param fresh gives another id at each call
 */
export function withFreshIds<S extends AreaShape>(
  changes: readonly Change<S>[],
  fresh: () => string,
): Change<S>[] {
  const given = new Map<string, string>();
  return changes.map((change) => {
    if (!('collection' in change) || !isNewEntry(change.id)) return change;
    const id = given.get(change.id) ?? fresh();
    given.set(change.id, id);
    return { ...change, id };
  });
}
