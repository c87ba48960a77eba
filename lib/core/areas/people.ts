import { isDay, isInstant, isTimeOfDay, isWallTime } from '../calendar.ts';
import { z } from '../zod.ts';

/** The people who open a board. Crew (camera, lights, MC) reads and writes nothing. */
export const role = z.enum(['instructor', 'couple', 'dj', 'planner', 'crew']);
export type Role = z.infer<typeof role>;

export const person = z.object({ name: z.string().check(z.maxLength(80)), part: z.enum(['lead', 'follow']) });
/** The couple are two named people; which of them leads may change. */
export const couple = z.object({ one: person, other: person });

export type Couple = z.infer<typeof couple>;

/** Which of the two leads; the first where nobody does, or both. */
export const leader = ({ one, other }: Couple): keyof Couple =>
  one.part !== 'lead' && other.part === 'lead' ? 'other' : 'one';

/** The same two, led by this one. */
export const ledBy = ({ one, other }: Couple, who: keyof Couple): Couple => ({
  one: { ...one, part: who === 'one' ? 'lead' : 'follow' },
  other: { ...other, part: who === 'other' ? 'lead' : 'follow' },
});

/** A text of which only those that the calendar has are of the type. */
const text = <T extends string>(is: (text: string) => text is T): z.ZodType<T> =>
  z.string().check(z.refine(is, 'a day and time that the calendar has')) as unknown as z.ZodType<T>;

export const isoDate = text(isDay);
export const timeOfDay = text(isTimeOfDay);
export const wallTime = text(isWallTime);
export const instant = text(isInstant);
export const digest = z.string().check(z.regex(/^[0-9a-f]{64}$/));
export const line = z.string().check(z.maxLength(300));
