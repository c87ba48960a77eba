import { type RecordTime, wholeMicros } from '../units.ts';
import { z } from '../zod.ts';
import { type Places, placesOfAll } from './places.ts';

/** A stored time: seconds in whole microseconds, at most an hour. */
export const storedTime = z.number().check(
  z.minimum(0),
  z.maximum(3600),
  z.refine((seconds) => wholeMicros(seconds) === seconds, 'a time in whole microseconds'),
);
/** The same, on the recording's clock. */
export const storedRecordTime = storedTime as unknown as z.ZodType<RecordTime, RecordTime>;

/** What the dancers count: a third of a beat, a beat, or every second beat. */
export const countLevel = z.enum(['subdivision', 'beat', 'half']);
export type CountLevel = z.infer<typeof countLevel>;

/** What of a grid is heard, and confirmed by a person, each by itself. What the dancers count is a choice, and nothing heard. */
export const gridAspects = ['metre', 'beats', 'bars'] as const;
export type GridAspect = (typeof gridAspects)[number];
/** Name of who confirmed it; null while it is only what the program heard. */
export const confirmer = z.nullable(z.string().check(z.minLength(1), z.maxLength(120)));

/** Beats of the recording, ascending, seconds of record time; tempo may drift, so times are listed and not derived. */
export const grid = z
  .object({
    beats: z.array(storedRecordTime).check(
      z.maxLength(8000),
      z.refine(
        (beats) => beats.every((beat, i) => i === 0 || beat > beats[i - 1]!),
        'beats in ascending order',
      ),
    ),
    /** Indices into `beats` of those which open a bar, ascending. */
    bars: z.array(z.int().check(z.minimum(0))).check(z.maxLength(8000)),
    beatsPerBar: z.union([z.literal(2), z.literal(3), z.literal(4)]),
    /** Parts of a beat: 2 in simple metres, 3 in compound ones. */
    subdivision: z.union([z.literal(2), z.literal(3)]),
    countLevel,
    /**
     * `metre`: how many beats a bar, and their parts; `beats`: where they are and how fast; `bars`: on which of them a bar begins.
     * Kept with the grid, so that a word is always for the very grid that holds it.
     */
    confirmedBy: z.object({ metre: confirmer, beats: confirmer, bars: confirmer }),
    /**
     * Bar lines that a person pointed at, and beats that were tapped: later corrections keep them. Absent while nobody did
     * either.
     */
    held: z.optional(
      z.object({
        bars: z.array(storedRecordTime).check(z.maxLength(500)),
        beats: z.array(storedRecordTime).check(z.maxLength(2000)),
      }),
    ),
    /**
     * Beats after which the counts wait, for a held note or a stop, until the next beat: what lies between is no beat long. Absent
     * where nothing says so; then long intervals alone are stops.
     */
    waits: z.optional(z.array(storedRecordTime).check(z.maxLength(500))),
  })
  .check(
    z.refine(
      ({ beats, bars }) => bars.every((beat, i) => beat < beats.length && (i === 0 || beat > bars[i - 1]!)),
      'bars begin on beats, in ascending order',
    ),
  );
export type Grid = z.infer<typeof grid>;

/** Confirmed in nothing. */
export const byNobody: Grid['confirmedBy'] = { metre: null, beats: null, bars: null };

/** The same grid in another recording, its beats as far apart as there; null where one of them has no place in it. */
export function movedGrid(grid: Grid, places: Places): Grid | null {
  const beats = placesOfAll(grid.beats, places);
  const bars = placesOfAll(grid.held?.bars ?? [], places);
  const tapped = placesOfAll(grid.held?.beats ?? [], places);
  const waits = placesOfAll(grid.waits ?? [], places);
  if (!beats || !bars || !tapped || !waits) return null;
  return {
    ...grid,
    beats,
    ...(grid.held && { held: { bars, beats: tapped } }),
    ...(grid.waits && { waits }),
  };
}
