import { isDay, isInstant, isTimeOfDay, isWallTime } from '../calendar.ts';
import { z } from '../zod.ts';

/** The people who open a board. Crew (camera, lights, MC) reads and writes nothing. */
export const role = z.enum(['instructor', 'couple', 'dj', 'planner', 'crew']);
export type Role = z.infer<typeof role>;

export const person = z.object({ name: z.string().max(80), part: z.enum(['lead', 'follow']) });
/** The couple are two named people; which of them leads may change. */
export const couple = z.object({ one: person, other: person });

/** A text of this form of which only those that the calendar has are of the type. */
const text = <T extends string>(form: RegExp, is: (text: string) => text is T): z.ZodType<T> =>
  z.string().regex(form).refine(is, 'a day and time that the calendar has') as unknown as z.ZodType<T>;

export const isoDate = text(/^\d{4}-\d{2}-\d{2}$/, isDay);
export const timeOfDay = text(/^\d{2}:\d{2}(:\d{2})?$/, isTimeOfDay);
export const wallTime = text(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2})?$/, isWallTime);
export const instant = text(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z$/, isInstant);
export const digest = z.string().regex(/^[0-9a-f]{64}$/);
export const line = z.string().max(300);
