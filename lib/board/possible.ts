import * as Y from 'yjs';

/** Longest struct, in elements, that a person's gesture can make; a forged one may claim 2^52 and jump a clock. */
const LONGEST_STRUCT = 1_000_000;

/** Whether an update can be read, and is one that people can have made. */
export function isPossible(update: Uint8Array): boolean {
  try {
    return Y.decodeUpdate(update).structs.every(({ length }) => length <= LONGEST_STRUCT);
  } catch {
    return false;
  }
}
