import * as Y from 'yjs';

/** Longest struct, in elements, that a person's gesture can make; a forged one may claim 2^52 and jump a clock. */
const LONGEST_STRUCT = 1_000_000;

export type Struct = Y.Item | Y.GC | Y.Skip;

/** The structs of an update, without a document to try it on; null when it cannot be read, or is none that people can have made. */
export function structsOf(update: Uint8Array): Struct[] | null {
  try {
    const { structs } = Y.decodeUpdate(update);
    return structs.every(({ length }) => length <= LONGEST_STRUCT) ? structs : null;
  } catch {
    return null;
  }
}

export const isPossible = (update: Uint8Array): boolean => structsOf(update) !== null;

/** A root that an update names and a document has not; null when there is none. */
export function unknownRoot(structs: readonly Struct[], doc: Y.Doc): string | null {
  for (const struct of structs) {
    // Of a struct that was only read, the parent is still as it was written: a root's name, or an id.
    const parent: unknown = struct instanceof Y.Item ? struct.parent : null;
    if (typeof parent === 'string' && !doc.share.has(parent)) return parent;
  }
  return null;
}
