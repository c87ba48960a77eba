import * as decoding from 'lib0/decoding';
import * as Y from 'yjs';

/** What a document has deleted: for each client ranges in order, none touching another. */
export type Deletions = ReturnType<typeof Y.createDeleteSetFromStructStore>['clients'];

/** Bytes in which somebody who may only read tells what they know to be deleted; no board has had so many deletions. */
const LARGEST_KNOWN = 1024 * 1024;
/** As an update begins that brings nothing: with the number of clients of whom something follows. */
const NO_STRUCTS = 0;

/**
 * Whether a document holds everything in an update already. Somebody who may only read sends, on connecting, all deletions that
 * they know of; that is no attempt to write. Takes a step for each range in the update and in the document. Throws on what cannot be read.
 */
export function isKnown(doc: Y.Doc, update: Uint8Array, deletions: () => Deletions): boolean {
  if (update.length > LARGEST_KNOWN) return false;
  if (update[0] !== NO_STRUCTS) {
    const { structs, ds } = Y.decodeUpdate(update);
    const isNew = structs.some(({ id, length }) => id.clock + length > Y.getState(doc.store, id.client));
    if (isNew) return false;
    for (const [client, ranges] of ds.clients) {
      const isDeleted = within(deletions().get(client));
      if (!ranges.every(({ clock, len }) => isDeleted(clock, len))) return false;
    }
    return true;
  }
  const decoder = decoding.createDecoder(update.subarray(1));
  for (let clients = decoding.readVarUint(decoder); clients > 0; clients--) {
    const isDeleted = within(deletions().get(decoding.readVarUint(decoder)));
    for (let ranges = decoding.readVarUint(decoder); ranges > 0; ranges--)
      if (!isDeleted(decoding.readVarUint(decoder), decoding.readVarUint(decoder))) return false;
  }
  return true;
}

/** Whether a range lies within one of these; asked in the order in which the library writes them, and false in any other. */
function within(
  ranges: readonly { clock: number; len: number }[] = [],
): (clock: number, len: number) => boolean {
  let at = 0;
  let last = 0;
  return (clock, len) => {
    if (clock < last) return false;
    last = clock + len;
    while (at < ranges.length && ranges[at]!.clock + ranges[at]!.len < last) at += 1;
    return at < ranges.length && ranges[at]!.clock <= clock;
  };
}
