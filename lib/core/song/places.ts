import { clock, type RecordTime, recordTime } from '../units.ts';

/** Where the moments of one recording are heard in another that shows its music, or some of it. */
export interface Places {
  /** The same moment of music on the other's clock, in whole microseconds; null where it has no place there. */
  of(at: RecordTime): RecordTime | null;
  /** Seconds that the other takes for one second of this. */
  ratio: number;
  /** The other shows all of this, in one piece. */
  whole: boolean;
}

/** In another song no moment has a place. */
export const noPlace: Places = { of: () => null, ratio: 1, whole: false };

/** All of these moments in the other, or null where one of them has no place there. */
export function placesOfAll(moments: readonly RecordTime[], places: Places): RecordTime[] | null {
  const there = moments.map((at) => places.of(at));
  return there.every((at) => at !== null) ? there : null;
}

/** What stands at one moment, and goes where that has no place. */
export function movedAt<T extends { at: RecordTime }>(value: T, places: Places): T | null {
  const at = places.of(value.at);
  return at === null ? null : { ...value, at };
}

/** A time as players show it, below an hour. */
const SHOWN_TIME = /\b(\d{1,2}):([0-5]\d)\b/g;

/** Words as they stand; none where they name a time that is another in the other recording, or none of it. */
export const movedWords = (words: string, places: Places): string =>
  [...words.matchAll(SHOWN_TIME)].every(([, minutes, seconds]) => {
    const at = 60 * Number(minutes) + Number(seconds);
    const there = places.of(recordTime(at));
    return there !== null && clock(there) === clock(at);
  })
    ? words
    : '';
