import type { FloorTime } from '../units.ts';
import { z } from '../zod.ts';

const at = z.number() as unknown as z.ZodType<FloorTime, FloorTime>;
const stretch = { from: at, to: at };

/** The whole dance at one glance. All times are floor times in seconds, from 0 to `length`; lists are in the order of the song. */
export const danceStrip = z.object({
  /** Kept time: the strip's axis. */
  length: at,
  /** To the last sound. */
  musicLength: at,
  /** Sections as played. `like` numbers the music, the same for the same; 0 where nobody said. */
  parts: z.array(z.object({ ...stretch, name: z.string(), like: z.int() })),
  /** `word`: the cue word that opens it; empty without one. `part`: index into `parts`. */
  phrases: z.array(z.object({ ...stretch, part: z.int(), word: z.string() })),
  /** What is not played, folded at the moment where it would come; `joined` where two parts of the recording meet there. */
  leftOut: z.array(z.object({ at, seconds: z.number(), words: z.string(), joined: z.boolean() })),
  /** Placed moves that are played, and those of the ending. */
  moves: z.array(z.object({ ...stretch, id: z.string(), name: z.string(), ending: z.boolean() })),
  /** Coming on, before the first step. */
  walk: z.nullable(z.object(stretch)),
  firstStep: z.nullable(at),
  /** The closing pose, and until when it is kept. */
  pose: z.nullable(z.object(stretch)),
  fade: z.nullable(z.object(stretch)),
});
export type DanceStrip = z.infer<typeof danceStrip>;
