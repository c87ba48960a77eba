import * as Y from 'yjs';

/** Longest struct, in elements, that a person's gesture can make; a forged one may claim 2^52 and jump a clock. */
const LONGEST_STRUCT = 1_000_000;

export type Struct = Y.Item | Y.GC | Y.Skip;

/** The structs of an update, without a document to try it on; null when it cannot be read, or is none that people can have made. */
export function structsOf(update: Uint8Array): Struct[] | null {
  try {
    const { structs } = Y.decodeUpdate(update);
    return structs.every(canBeMade) ? structs : null;
  } catch {
    return null;
  }
}

/**
 * Yjs finds a struct by its clock, and asks only of other clients' whether it is there. One without length, or one that leans on
 * what its own client makes later, is taken by some documents and breaks others that hold the same.
 */
function canBeMade(struct: Struct): boolean {
  const { id, length } = struct;
  if (length < 1 || length > LONGEST_STRUCT) return false;
  if (!(struct instanceof Y.Item)) return true;
  // Of a struct that was only read, the parent is still as it was written: a root's name, or an id.
  const parent: unknown = struct.parent;
  return [struct.origin, struct.rightOrigin, parent].every(
    (other) => !(other instanceof Y.ID) || other.client !== id.client || other.clock < id.clock,
  );
}

export const isPossible = (update: Uint8Array): boolean => structsOf(update) !== null;

/** A root that an update names and a document has not; null when there is none. */
export function unknownRoot(structs: readonly Struct[], doc: Y.Doc): string | null {
  for (const struct of structs) {
    const parent: unknown = struct instanceof Y.Item ? struct.parent : null;
    if (typeof parent === 'string' && !doc.share.has(parent)) return parent;
  }
  return null;
}
