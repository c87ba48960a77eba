import { noPlace, type Places } from '../song/places.ts';
import { type RecordTime, recordTime, wholeMicros } from '../units.ts';
import type { Comparison } from './compare.ts';
import { FRAME } from './imprint.ts';
import { isSameSpeed } from './sameSpeed.ts';

/** A comparison that is less sure than this aligns nothing, as the check of a copy then tells nothing either. Ours, no source. */
const SURE = 0.5;

/**
 * Where a moment of a recording lies in the copy that it was compared with: by the line of the first stretch that shows it, at the
 * speed that was found. Outside of what was aligned, in another recording and where the comparison is unsure it has no place.
 * @param duration seconds of the copy
 */
export function placesIn(
  {
    verdict,
    confidence,
    ratio,
    stretches,
    differences,
  }: Pick<Comparison, 'ratio' | 'confidence' | 'stretches'> & {
    verdict: string;
    differences: readonly unknown[];
  },
  duration: number,
): Places {
  if (verdict === 'another recording' || confidence < SURE) return noPlace;
  // So small a change of speed is as likely an error of measuring: what was equally long stays so.
  const speed = isSameSpeed(ratio) ? 1 : ratio;
  return {
    ratio: speed,
    whole: stretches.length === 1 && differences.length === 0,
    of(at: RecordTime) {
      const within = (beside: number) =>
        stretches.find(({ recordFrom, recordTo }) => at >= recordFrom - beside && at <= recordTo + beside);
      // An edge is known to a frame, and what lies a frame beyond either end of the copy is that end.
      const stretch = within(0) ?? within(FRAME);
      if (!stretch) return null;
      const { recordFrom, recordTo, copyFrom, copyTo } = stretch;
      const middle = (recordFrom + recordTo) / 2;
      const there = (copyFrom + copyTo) / 2 + speed * (at - middle);
      if (there < -FRAME || there > duration + FRAME) return null;
      return recordTime(wholeMicros(Math.min(duration, Math.max(0, there))));
    },
  };
}
