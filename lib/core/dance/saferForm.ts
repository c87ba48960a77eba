import type { Move } from './move.ts';

/** Words of the safer form of a dip or lift. */
export const supportedLean =
  'A supported lean: both upright, the follow on their own feet, a small tilt with a hand at the shoulder blade.';

/**
 * A move as it is danced in its safer form: told by that form's name, without the cautions of the other, and as easy as that. It keeps
 * its id, by which board and lessons know it. Unchanged where it has no safer form.
 */
export function inSaferForm(move: Move): Move {
  if (move.saferForm === '') return move;
  const isLean = move.saferForm === supportedLean;
  return {
    ...move,
    name: isLean ? 'Supported lean' : `${move.name}, the safer form`,
    lead: isLean ? 'A wide, steady stance; a small tilt, hand at the shoulder blade.' : move.saferForm,
    follow: isLean ? 'Keeps their own weight on both feet and tilts a little.' : move.saferForm,
    difficulty: 1,
    cautions: [],
    saferForm: '',
  };
}
