import { storedRecordTime, storedTime } from '../song/grid.ts';
import type { Places } from '../song/places.ts';
import { recordTime, wholeMicros } from '../units.ts';
import { z } from '../zod.ts';

/** Seconds. */
const LONGEST_CROSSFADE = 0.5;
const [SHORTEST_FADE, LONGEST_FADE] = [0.1, 60];

/** A part left out, record time. The crossfade, in seconds, lies wholly before the seam and never changes the floor length. */
export const cut = z
  .object({
    from: storedRecordTime,
    to: storedRecordTime,
    crossfade: storedTime.check(z.maximum(LONGEST_CROSSFADE)),
    /** Error of the beat interval across the seam in ms, as measured from the samples; absent reads "not measured". */
    beatErrorMs: z.optional(z.number()),
  })
  .check(z.refine((c) => c.to > c.from, 'a cut ends after it begins'));
export type Cut = z.infer<typeof cut>;

/** linear: gain 1-t. soft: gain (1-t)^2. Only + - x / and sqrt, so that every engine renders the same bits. */
export const fadeShape = z.enum(['linear', 'soft']);

export const songEnd = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('own') }),
  z.object({
    kind: z.literal('fade'),
    from: storedRecordTime,
    /** Seconds; the gain reaches 0 at from + length, where the file ends. */
    length: storedTime.check(z.minimum(SHORTEST_FADE), z.maximum(LONGEST_FADE)),
    shape: fadeShape,
    /** The DJ fades by hand; otherwise the fade is in the finished file. */
    byHand: z.boolean(),
  }),
]);
export type SongEnd = z.infer<typeof songEnd>;

/** How the recording becomes what is played. One register: replaced whole, never in parts. */
export const edit = z.object({
  start: storedRecordTime,
  /** Disjoint, in order. */
  cuts: z.array(cut).check(
    z.maxLength(20),
    z.refine(
      (cuts) => cuts.every((c, i) => i === 0 || c.from >= cuts[i - 1]!.to),
      'cuts in order, none inside another',
    ),
  ),
  end: songEnd,
  /** 1 as recorded; floor time = record time of what is kept / speed, key kept. */
  speed: z.number().check(z.minimum(0.9), z.maximum(1.1)),
});
export type Edit = z.infer<typeof edit>;

/** The whole recording as it is. */
export const wholeSong: Edit = { start: recordTime(0), cuts: [], end: { kind: 'own' }, speed: 1 };

/** What is played is the recording itself: a copy of it and the finished file hold the same music. */
export const playsWhole = ({ start, cuts, end, speed }: Edit): boolean =>
  start === 0 && cuts.length === 0 && end.kind === 'own' && speed === 1;

/**
 * The same edit of another recording of the music: each of its moments there, fade and crossfades as long as the same music takes, and
 * played at the same speed as before, so that it lasts `ratio` times as long. What begins before the other does is played from its
 * beginning. Null where another of its moments has no place there.
 */
export function movedEdit({ start, cuts, end, speed }: Edit, places: Places): Edit | null {
  const lasting = (seconds: number, least: number, most: number) =>
    Math.min(most, Math.max(least, wholeMicros(seconds * places.ratio)));
  const moved = cuts.flatMap(({ beatErrorMs, ...cut }) => {
    const [from, to] = [places.of(cut.from), places.of(cut.to)];
    if (from === null || to === null) return [];
    // It was measured in samples at the speed of the other.
    const measured = beatErrorMs !== undefined && places.ratio === 1 ? { beatErrorMs } : {};
    return { from, to, crossfade: lasting(cut.crossfade, 0, LONGEST_CROSSFADE), ...measured };
  });
  const fadesFrom = end.kind === 'fade' ? places.of(end.from) : null;
  if (moved.length < cuts.length || (end.kind === 'fade' && fadesFrom === null)) return null;
  return {
    start: places.of(start) ?? recordTime(0),
    cuts: moved,
    end:
      end.kind === 'fade'
        ? { ...end, from: fadesFrom!, length: lasting(end.length, SHORTEST_FADE, LONGEST_FADE) }
        : end,
    speed,
  };
}
