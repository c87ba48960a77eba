import type { CopyCheck } from '../../lib/core/areas/answer.ts';
import { type Edit, edit } from '../../lib/core/edit/edit.ts';
import { bad, good, type Result } from '../../lib/core/result.ts';
import { clock, type RecordTime, recordTime, wholeMicros } from '../../lib/core/units.ts';

/** What the DJ would play instead, in record time. */
export interface Wishes {
  start: RecordTime;
  /** Nothing is left out. */
  whole: boolean;
  end: { kind: 'own' } | { kind: 'fade'; from: RecordTime; length: number; byHand: boolean };
}

/** Record time of a time on the clock of somebody's own copy; the inverse of what the DJ page shows. */
export const ofCopy = (seconds: number, copy: Pick<CopyCheck, 'ratio' | 'offsetMs'> | null): RecordTime =>
  recordTime(wholeMicros(Math.max(0, copy ? (seconds - copy.offsetMs / 1000) / copy.ratio : seconds)));

/**
 * The edit that a suggestion means. What is left out stays left out where it lies after the new start; the rest is as before.
 * Problems: `not in the song`, `nothing left`, `invalid`.
 */
export function suggestedEdit(present: Edit, duration: number, wishes: Wishes): Result<Edit> {
  const { start, whole, end } = wishes;
  const last = end.kind === 'fade' ? end.from : duration;
  if (start >= duration || last > duration)
    return bad(
      'not in the song',
      `The recording ends at ${clock(duration)}: please give a time before that.`,
    );
  if (last <= start)
    return bad('nothing left', 'It would fade before it starts: please look at the two times.');
  const parsed = edit.safeParse({
    ...present,
    start,
    cuts: whole ? [] : present.cuts.filter((cut) => cut.from >= start && cut.from < last),
    end:
      end.kind === 'own'
        ? { kind: 'own' }
        : {
            kind: 'fade',
            from: end.from,
            length: wholeMicros(end.length),
            shape: present.end.kind === 'fade' ? present.end.shape : 'linear',
            byHand: end.byHand,
          },
  });
  return parsed.success
    ? good(parsed.data)
    : bad('invalid', 'A fade lasts between 0.1 and 60 seconds: please look at its length.');
}
