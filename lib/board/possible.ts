import * as Y from 'yjs';

/** Longest struct, in elements, that a person's gesture can make; a forged one may claim 2^52 and jump a clock. */
const LONGEST_STRUCT = 1_000_000;
/** How far lists and named values lie inside each other in a value; an edit or a grid has four. */
const DEEPEST_VALUE = 16;
/** What every plain object answers to: never the name of anything on a board. */
const INHERITED: ReadonlySet<string> = new Set(Object.getOwnPropertyNames(Object.prototype));

export type Struct = Y.Item | Y.GC | Y.Skip;

/** What an update holds. */
export interface ReadUpdate {
  structs: readonly Struct[];
  /** By client, what it removes. */
  removed: ReadonlyMap<number, readonly { clock: number; len: number }[]>;
}

/** An update without a document to try it on; null when it cannot be read, or is none that people can have made. */
export function readUpdate(update: Uint8Array): ReadUpdate | null {
  try {
    // Nesting that goes on without end runs out of stack in here, and is caught as what it is.
    const { structs, ds } = Y.decodeUpdate(update);
    return structs.every(canBeMade) && isInOrder(structs) ? { structs, removed: ds.clients } : null;
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

/** Each client once, and without a hole: Yjs takes the last of two lists of one client, and another reader may take both. */
function isInOrder(structs: readonly Struct[]): boolean {
  let before: Struct | null = null;
  let seen: Set<number> | null = null;
  for (const struct of structs) {
    const { client, clock } = struct.id;
    if (before?.id.client === client) {
      if (before.id.clock + before.length !== clock) return false;
    } else if (before !== null) {
      seen ??= new Set([structs[0]!.id.client]);
      if (seen.has(client)) return false;
      seen.add(client);
    }
    before = struct;
  }
  return true;
}

export const isPossible = (update: Uint8Array): boolean => readUpdate(update) !== null;

/** Not one that plain objects inherit, such as `constructor`. */
export const isOwnName = (name: string): boolean => !INHERITED.has(name);

/**
 * A value that JSON knows, and a plain one: reading, writing and comparing it gives the same everywhere, and it inherits nothing
 * of its own. -0 is let through, which a page's arithmetic may give and JSON writes as 0.
 */
export function isPlain(value: unknown, depth = 0): boolean {
  switch (typeof value) {
    case 'string':
    case 'boolean':
      return true;
    case 'number':
      return Number.isFinite(value);
    case 'object':
      break;
    default:
      return false;
  }
  if (value === null) return true;
  if (depth >= DEEPEST_VALUE) return false;
  if (Array.isArray(value)) return value.every((one) => isPlain(one, depth + 1));
  // A key `__proto__` that was read from bytes has become the prototype.
  if (Object.getPrototypeOf(value) !== Object.prototype) return false;
  return Object.entries(value).every(([name, one]) => name !== '__proto__' && isPlain(one, depth + 1));
}
