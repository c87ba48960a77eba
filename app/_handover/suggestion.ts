import type { CopyCheck } from '../../lib/core/areas/answer.ts';
import { compileEdit, fadeStart } from '../../lib/core/edit/compile.ts';
import { type Edit, edit } from '../../lib/core/edit/edit.ts';
import type { CompiledEdit } from '../../lib/core/edit/score.ts';
import { bad, good, type Result } from '../../lib/core/result.ts';
import { clock, floorTime, type RecordTime, recordTime, wholeMicros } from '../../lib/core/units.ts';

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

/** Record time of a time on the clock of the finished file, as far as its music goes. Problem: `not in the song`. */
export const ofFile = (seconds: number, file: CompiledEdit): Result<RecordTime> =>
  seconds > file.length
    ? bad(
        'not in the song',
        `The music in the finished file ends at ${clock(file.length)}: please give a time before that.`,
      )
    : good(recordTime(wholeMicros(file.toRecord(floorTime(seconds)))));

/** A fade that ends this much after the recording, seconds, is over with it to anybody who listens. */
const HEARD = 0.05;

/**
 * The edit that a suggestion means. What is left out stays left out where it lies after the new start; the rest is as before.
 * Problems: `not in the song`, `nothing left`, `too long`, `invalid`.
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
  if (!parsed.success)
    return bad('invalid', 'A fade lasts between 0.1 and 60 seconds: please look at its length.');
  return fadesInTime(parsed.data, duration)
    ? good(parsed.data)
    : bad(
        'too long',
        'The music would be over before it has faded: please start the fade earlier, or make it shorter.',
      );
}

/** Whether there is music enough for the whole of a fade. */
function fadesInTime(made: Edit, duration: number): boolean {
  if (made.end.kind === 'own') return true;
  const whole = compileEdit({ ...made, end: { kind: 'own' } }, { duration });
  return fadeStart(made, whole)! + made.end.length / made.speed <= whole.length + HEARD;
}
