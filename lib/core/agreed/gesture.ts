import type { Role } from '../areas/people.ts';
import type { ShowChange } from '../areas/shift.ts';

/**
 * By which way a change comes:
 * - `hand`: a person's own gesture, which names what it changes
 * - `suggestion`: a fix or a proposal: the person sees it in words, not each thing that it moves
 * - `mark`: going back to a mark
 * - `undo`: taking back one's own, or doing it again
 * - `arrived`: from a page, at the server. Its person was asked there, so that only what must be in the change itself is looked for
 * - `import`: a board that comes in a file, as it was written elsewhere
 */
export type Way = 'hand' | 'suggestion' | 'mark' | 'undo' | 'arrived' | 'import';

/** Who changes something, and how they came to. */
export interface Gesture {
  role: Role;
  way: Way;
  /** Ids of the entries that the person was shown by name, so that changing them is no surprise. */
  about?: readonly string[];
  /** What the same gesture changes of the show area. */
  along?: readonly ShowChange[];
}
