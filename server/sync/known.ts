import * as Y from 'yjs';

/**
 * Whether a document holds everything in an update already. Somebody who may only read sends, on connecting, all
 * deletions that they know of; that is no attempt to write.
 */
export function isKnown(doc: Y.Doc, update: Uint8Array): boolean {
  const { structs, ds } = Y.decodeUpdate(update);
  for (const { id, length } of structs)
    if (id.clock + length > Y.getState(doc.store, id.client)) return false;
  if (ds.clients.size === 0) return true;
  const deleted = Y.createDeleteSetFromStructStore(doc.store).clients;
  for (const [client, ranges] of ds.clients) {
    const known = deleted.get(client) ?? [];
    for (const { clock, len } of ranges)
      if (!known.some((range) => range.clock <= clock && range.clock + range.len >= clock + len))
        return false;
  }
  return true;
}
