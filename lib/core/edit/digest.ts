import type { Recording } from '../song/recording.ts';
import { toMicros } from '../units.ts';
import { canonicalJson, hashOf, type Json } from './canonical.ts';
import type { Edit } from './edit.ts';

/** What of a recording decides how an edit of it sounds. */
export type Recorded = Pick<Recording, 'id' | 'rate' | 'channels'>;

/**
 * The edit as text that is the same wherever the same thing would be heard: times in whole microseconds, cuts in order,
 * defaults written out, nothing measured.
 */
export const canonicalEdit = (edit: Edit, recording: Recorded): string =>
  canonicalJson(plain(edit, recording));

/** SHA-256 of `canonicalEdit`, hex: an answer holds it to say for which edit it was given. */
export const digestOf = (edit: Edit, recording: Recorded): string => hashOf(plain(edit, recording));

function plain({ start, cuts, end, speed }: Edit, { id, rate, channels }: Recorded): Json {
  return {
    v: 1,
    recording: id,
    rate,
    channels,
    start: toMicros(start),
    cuts: [...cuts]
      .sort((a, b) => a.from - b.from)
      .map((cut) => ({
        from: toMicros(cut.from),
        to: toMicros(cut.to),
        crossfade: toMicros(cut.crossfade),
      })),
    end:
      end.kind === 'own'
        ? { kind: 'own' }
        : {
            kind: 'fade',
            from: toMicros(end.from),
            length: toMicros(end.length),
            shape: end.shape,
            byHand: end.byHand,
          },
    speed,
  };
}
