import { compareImprints } from '@/lib/core/compare/compare.ts';
import { finishedFileAmong } from '@/lib/core/compare/finishedFile.ts';
import { decodeImprint, imprintOf } from '@/lib/core/compare/imprint.ts';
import type { Edit } from '@/lib/core/edit/edit.ts';
import { bad, good, type Result } from '@/lib/core/result.ts';
import { durationOf, type Samples } from '@/lib/core/signal/samples.ts';
import type { CopyComparison } from './audioWork.ts';

/**
 * Compares a copy with a recording, both by their imprints. A copy that is cut differently may be a file of our own making:
 * it is held against what each of the edits would sound like, the present one first.
 */
export function compareWith(copy: Samples, imprint: string, edits: readonly Edit[]): Result<CopyComparison> {
  const recording = decodeImprint(imprint);
  if (!recording) return bad('no imprint', 'The recording has no imprint to compare with. Give it again.');
  const heard = imprintOf(copy);
  const duration = durationOf(copy);
  const whole = compareImprints(recording, heard);
  if (whole.verdict !== 'cut differently') return good({ ...whole, duration });
  const ours = finishedFileAmong(recording, heard, edits);
  if (ours) {
    const { finishedFile: _known, likeness: _fit, ...own } = ours.comparison;
    return good({
      ...own,
      stretches: whole.stretches,
      verdict: ours.index === 0 ? 'finished file' : 'older finished file',
      duration,
    });
  }
  return good({ ...whole, duration });
}
