import { z } from '../zod.ts';
import { confirmer, storedRecordTime } from './grid.ts';

export const sectionKind = z.enum([
  'intro',
  'verse',
  'pre-chorus',
  'chorus',
  'bridge',
  'instrumental',
  'outro',
]);
export type SectionKind = z.infer<typeof sectionKind>;

/** A stretch of the song that starts at a bar and runs to the next section, or to the end of the recording. */
export const section = z.object({
  start: storedRecordTime,
  kind: sectionKind,
  /** The same letter for sections with the same music; empty when nobody said. */
  like: z.string().check(z.maxLength(3)),
  /** A name of the person's own; empty means the kind and its number. */
  name: z.string().check(z.maxLength(80)),
  /** Bars a phrase; null means the board's. */
  phraseBars: z.nullable(z.int().check(z.minimum(1), z.maximum(32))),
  /** Who said that it begins here. Its kind and name are what people call it, which needs nobody's word. */
  confirmedBy: confirmer,
});
export type Section = z.infer<typeof section> & { id: string };

/** A word or sound that somebody listens for. */
export const cue = z.object({
  at: storedRecordTime,
  word: z.string().check(z.minLength(1), z.maxLength(80)),
});
export type Cue = z.infer<typeof cue> & { id: string };
