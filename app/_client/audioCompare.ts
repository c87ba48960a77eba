import { compareImprints } from '@/lib/core/compare/compare.ts';
import { BANDS, decodeImprint, FRAME, type Imprint, imprintOf } from '@/lib/core/compare/imprint.ts';
import { compileEdit } from '@/lib/core/edit/compile.ts';
import type { Edit } from '@/lib/core/edit/edit.ts';
import { SILENCE } from '@/lib/core/handover/dj.ts';
import { bad, good, type Result } from '@/lib/core/result.ts';
import { durationOf, type Samples } from '@/lib/core/signal/samples.ts';
import type { CopyComparison } from './audioWork.ts';

/** A finished file is ours within this speed; another player's "same tempo" is. */
const OWN_RATIO = 0.002;

/**
 * Compares a copy with a recording, both by their imprints. A copy that is cut differently may be a file of our own making:
 * it is held against what each of the edits would sound like, the present one first.
 */
export function compareWith(copy: Samples, imprint: string, edits: readonly Edit[]): Result<CopyComparison> {
  const recording = decodeImprint(imprint);
  if (!recording)
    return bad('no imprint', 'The recording has no imprint to compare with. Listen to it again.');
  const heard = imprintOf(copy);
  const duration = durationOf(copy);
  const whole = compareImprints(recording, heard);
  if (whole.verdict !== 'cut differently') return good({ ...whole, duration });
  for (const [i, edit] of edits.entries()) {
    const own = compareImprints(editedImprint(recording, edit), heard);
    const same = own.verdict === 'same' || own.verdict === 'shifted';
    if (!same || Math.abs(own.ratio - 1) > OWN_RATIO) continue;
    return good({ ...own, verdict: i === 0 ? 'finished file' : 'older finished file', duration });
  }
  return good({ ...whole, duration });
}

/**
 * The imprint that the finished file of an edit has, made from that of the recording: its frames in the order in which they
 * are played, then the silent end. Fades and crossfades change an imprint too little to matter.
 */
export function editedImprint(recording: Imprint, edit: Edit): Imprint {
  const { spans, length } = compileEdit({ ...edit, speed: 1 }, recording);
  const duration = length + SILENCE;
  const values = new Int8Array(BANDS * Math.floor(duration / FRAME));
  for (const { from, to, floor } of spans) {
    const first = Math.ceil(floor / FRAME);
    const last = Math.floor((floor + to - from) / FRAME);
    for (let i = first; i < last; i++) {
      const source = Math.round((from + i * FRAME - floor) / FRAME);
      values.set(recording.values.subarray(BANDS * source, BANDS * (source + 1)), BANDS * i);
    }
  }
  return { duration, values };
}
