import { storedRecordTime, storedTime } from '../song/grid.ts';
import { type Moving, recordTime } from '../units.ts';
import { z } from '../zod.ts';

/** A part left out, record time. The crossfade, in seconds, lies wholly before the seam and never changes the floor length. */
export const cut = z
  .object({
    from: storedRecordTime,
    to: storedRecordTime,
    crossfade: storedTime.pipe(z.number().max(0.5)),
    /** Error of the beat interval across the seam in ms, as measured from the samples; absent reads "not measured". */
    beatErrorMs: z.number().optional(),
  })
  .refine((c) => c.to > c.from, 'a cut ends after it begins');
export type Cut = z.infer<typeof cut>;

/** linear: gain 1-t. soft: gain (1-t)^2. Only + - x / and sqrt, so that every engine renders the same bits. */
export const fadeShape = z.enum(['linear', 'soft']);

export const songEnd = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('own') }),
  z.object({
    kind: z.literal('fade'),
    from: storedRecordTime,
    /** Seconds; the gain reaches 0 at from + length, where the file ends. */
    length: storedTime.pipe(z.number().min(0.1).max(60)),
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
  cuts: z
    .array(cut)
    .max(20)
    .refine(
      (cuts) => cuts.every((c, i) => i === 0 || c.from >= cuts[i - 1]!.to),
      'cuts in order, none inside another',
    ),
  end: songEnd,
  /** 1 as recorded; floor time = record time of what is kept / speed, key kept. */
  speed: z.number().min(0.9).max(1.1),
});
export type Edit = z.infer<typeof edit>;

/** The whole recording as it is. */
export const wholeSong: Edit = { start: recordTime(0), cuts: [], end: { kind: 'own' }, speed: 1 };

/** What is played is the recording itself: a copy of it and the finished file hold the same music. */
export const playsWhole = ({ start, cuts, end, speed }: Edit): boolean =>
  start === 0 && cuts.length === 0 && end.kind === 'own' && speed === 1;

/**
 * The same edit with each of its times moved. What is played from the beginning of a recording is played from the beginning of a
 * copy that begins a little later into the music.
 */
export const movedEdit = ({ start, cuts, end, speed }: Edit, to: Moving): Edit => ({
  start: to(start, recordTime(0)),
  cuts: cuts.map((cut) => ({ ...cut, from: to(cut.from), to: to(cut.to) })),
  end: end.kind === 'fade' ? { ...end, from: to(end.from) } : end,
  speed,
});
