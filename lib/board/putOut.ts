import * as Y from 'yjs';

/** A write that a transaction has put out: deleted, or brought in behind another. */
export interface PutOut {
  item: Y.Item;
  /**
   * The write that put it out, neither writer having seen the other's; null where it was put out by somebody who had seen it.
   */
  rival: Y.Item | null;
  /** Item and rival came in this very transaction. */
  together: boolean;
}

/**
 * Every write under a name of a Y.Map is an item; they stand in one line, from the first to the one that holds, and each names as
 * its `origin` the one that held where and when it was written. So of an item that holds no more:
 * - where the line of origins of the one that holds leads through it, whoever wrote next had seen it;
 * - else that line leaves the items to its right at one whose origin lies to its left. Its writer had not seen the item, which
 *   would have been the origin, nor had the item's writer seen that one, or it would stand to its right.
 * (Yjs, `typeMapSet` and `Item.integrate`.)
 */
export function putOut(
  { deleteSet, doc, beforeState }: Y.Transaction,
  map: Y.Map<unknown>,
  name: string,
): { stands: Y.Item | null; out: PutOut[] } {
  const stands = map._map.get(name) ?? null;
  const out: PutOut[] = [];
  const right: Y.Item[] = [];
  for (let item = stands; item !== null; item = item.left) {
    if (isIn(deleteSet, item)) {
      const rival = rivalOf(item, right, doc.store);
      const together = rival !== null && isNew(beforeState, item) && isNew(beforeState, rival);
      out.push({ item, rival, together });
    }
    right.push(item);
  }
  return { stands, out };
}

/** @param right the items to its right, from the one that holds */
function rivalOf(item: Y.Item, right: readonly Y.Item[], store: Y.Doc['store']): Y.Item | null {
  // Somebody wrote on top of it: if that does not hold either, it is that which was lost.
  if (right.some(({ origin }) => origin !== null && holds(item, origin))) return null;
  let writer = right[0] ?? null;
  while (writer?.origin) {
    const seen = Y.getItem(store, writer.origin);
    if (!right.includes(seen)) break;
    writer = seen;
  }
  return writer;
}

/** An item may be several that were written one after the other. */
const holds = ({ id, length }: Y.Item, { client, clock }: Y.ID): boolean =>
  id.client === client && id.clock <= clock && clock < id.clock + length;

export const isIn = (deleted: Y.Transaction['deleteSet'], { id }: Y.Item): boolean =>
  Y.isDeleted(deleted, id);

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
