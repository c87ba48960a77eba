import { z } from '../zod.ts';

/** Counts are told to the half: "1 2 and 3" has a step on 2.5. */
const halves = z.number().check(z.multipleOf(0.5));

/**
 * One step of a figure. Its place is told in the couple's frame, as the lead faces when the step begins: `along` is forwards for the
 * lead, `side` to the lead's right, both in strides of the couple's middle. So a step that both take has one place, though one goes
 * forwards and the other back.
 */
export const danceStep = z.object({
  /** Counts of the figure before it begins, from 0. */
  begins: halves.check(z.minimum(0), z.maximum(64)),
  /** Counts until the next step, or until the figure ends. */
  lasts: halves.check(z.minimum(0.5), z.maximum(64)),
  /** Who takes it; `both` means on opposite feet, and `foot` is then the lead's. */
  who: z.enum(['both', 'lead', 'follow']),
  foot: z.enum(['left', 'right']),
  /** A touch takes no weight: the same foot is free afterwards. */
  how: z.enum(['step', 'close', 'touch', 'cross behind', 'cross in front']),
  where: z.object({
    along: z.number().check(z.minimum(-8), z.maximum(8)),
    side: z.number().check(z.minimum(-8), z.maximum(8)),
  }),
  /** Eighths of a whole turn, to the right; negative to the left. */
  turn: z.int().check(z.minimum(-16), z.maximum(16)),
});
export type DanceStep = z.infer<typeof danceStep>;
