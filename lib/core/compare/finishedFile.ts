import { compileEdit } from '../edit/compile.ts';
import type { Edit } from '../edit/edit.ts';
import { floorTime } from '../units.ts';
import { type Comparison, compareImprints } from './compare.ts';
import { FRAME, type Imprint } from './imprint.ts';

/** The imprint that a rendering of this edit would have, from the recording's alone. */
export function editedImprint(recording: Imprint, edit: Edit): Imprint {
  const { length, toRecord } = compileEdit(edit, recording);
  const words = Uint32Array.from({ length: Math.floor(length / FRAME) }, (_, i) => {
    return recording.words[Math.round(toRecord(floorTime(i * FRAME)) / FRAME)] ?? 0;
  });
  return { duration: length, words };
}

/**
 * Whether a copy is our own rendering of this edit, and how it lies against it: the comparison's "recording" is the edit as
 * played. Ask for the current edit and for older ones to tell which file somebody holds.
 */
export function compareWithEdit(
  recording: Imprint,
  copy: Imprint,
  edit: Edit,
): Comparison & { finishedFile: boolean } {
  const comparison = compareImprints(editedImprint(recording, edit), copy);
  const { verdict, ratio } = comparison;
  return {
    ...comparison,
    finishedFile: verdict === 'same' || (verdict === 'shifted' && Math.abs(ratio - 1) < 1e-3),
  };
}
