import * as Y from 'yjs';
import type { AreaShape } from '../core/areas/area.ts';
import { readArea } from './area.ts';

type Deleted = ReturnType<typeof Y.createDeleteSetFromStructStore>;

/** Both hold the same structs, removed the same of them, and read the same. */
export const isEqual = (one: Y.Doc, other: Y.Doc, shape: AreaShape): boolean =>
  holdsAll(one, stateOf(other)) &&
  holdsAll(other, stateOf(one)) &&
  JSON.stringify(readArea(one, shape)) === JSON.stringify(readArea(other, shape));

/** What a document holds, as numbers. */
export interface State {
  vector: ReadonlyMap<number, number>;
  deleted: Deleted;
}

export const stateOf = (doc: Y.Doc): State => ({
  vector: new Map(Y.decodeStateVector(Y.encodeStateVector(doc))),
  deleted: Y.createDeleteSetFromStructStore(doc.store),
});

/** Whether a document has everything of a state, and has removed everything that is removed there. */
export function holdsAll(doc: Y.Doc, { vector, deleted }: State): boolean {
  for (const [client, clock] of vector) if (Y.getState(doc.store, client) < clock) return false;
  const own = Y.createDeleteSetFromStructStore(doc.store).clients;
  for (const [client, ranges] of deleted.clients) {
    const removed = own.get(client) ?? [];
    // Both are in order, and neither has two ranges that touch.
    let at = 0;
    for (const { clock, len } of ranges) {
      while (at < removed.length && removed[at]!.clock + removed[at]!.len < clock + len) at += 1;
      if (at === removed.length || removed[at]!.clock > clock) return false;
    }
  }
  return true;
}
