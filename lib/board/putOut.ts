import * as Y from 'yjs';

/** A write that a transaction has put out: deleted, or brought in behind the one that holds. */
export interface PutOut {
  item: Y.Item;
  /** Whoever put it out had seen it. */
  seen: boolean;
  /** It and the one that holds came in this very transaction. */
  together: boolean;
}

/**
 * Every write under a name of a Y.Map is an item; they stand in one line, from the first to the one that holds, and each names as
 * its `origin` the one that held where and when it was written. Where no other begins at an item that is put out, the writes
 * to its right go back to one that begins to its left. The writer of that one had not seen the item, or would have begun at it or
 * to its right; nor had the item's writer seen that one, or the item would stand to its right: they were written at the same
 * time. (Yjs, `typeMapSet` and `Item.integrate`.)
 */
export function putOut(
  { deleteSet, beforeState }: Y.Transaction,
  map: Y.Map<unknown>,
  name: string,
): { holds: Y.Item | null; out: PutOut[] } {
  const holds = map._map.get(name) ?? null;
  const out: PutOut[] = [];
  const right: Y.Item[] = [];
  // Mostly the line need not be followed to its beginning: one is put out, and it is the last but one.
  let deleted = countOf(deleteSet);
  for (let item = holds; item !== null && deleted > 0; item = item.left) {
    if (isIn(deleteSet, item)) {
      deleted -= item.length;
      const seen = item === holds || right.some((later) => beginsAt(later, item!));
      const together = isNew(beforeState, item) && isNew(beforeState, holds!);
      out.push({ item, seen, together });
    }
    right.push(item);
  }
  return { holds, out };
}

/** An item may be several that were written one after the other. */
const beginsAt = ({ origin }: Y.Item, { id, length }: Y.Item): boolean =>
  origin?.client === id.client && id.clock <= origin.clock && origin.clock < id.clock + length;

export const isIn = (deleted: Y.Transaction['deleteSet'], { id }: Y.Item): boolean =>
  Y.isDeleted(deleted, id);

/** How much a transaction has deleted, in clocks. */
function countOf({ clients }: Y.Transaction['deleteSet']): number {
  let count = 0;
  for (const ranges of clients.values()) for (const { len } of ranges) count += len;
  return count;
}

/** It was not there before. */
export const isNew = (before: Y.Transaction['beforeState'], { id }: Y.Item): boolean =>
  id.clock >= (before.get(id.client) ?? 0);

/** A plain value; undefined where it is none, or is known no more. */
export function plainOf({ content }: Y.Item): unknown {
  const value: unknown = content.getContent().at(-1);
  return value instanceof Y.AbstractType ? undefined : value;
}

/** The entry that this item is; null where it is none. */
export const entryOf = ({ content }: Y.Item): Y.Map<unknown> | null =>
  content instanceof Y.ContentType && content.type instanceof Y.Map ? content.type : null;
