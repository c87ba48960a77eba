import { z } from '../zod.ts';

/** The people who open a board. Crew (camera, lights, MC) reads and writes nothing. */
export const role = z.enum(['instructor', 'couple', 'dj', 'planner', 'crew']);
export type Role = z.infer<typeof role>;

export const person = z.object({ name: z.string().max(80), part: z.enum(['lead', 'follow']) });
/** The couple are two named people; which of them leads may change. */
export const couple = z.object({ one: person, other: person });

/** Some month 13 or 30 February would stop whoever reckons with it. */
const inCalendar = (text: string): boolean => {
  const day = new Date(`${text.slice(0, 10)}T00:00:00Z`);
  const isDay = Number.isFinite(day.getTime()) && day.toISOString().startsWith(text.slice(0, 10));
  return isDay && /^(T([01]\d|2[0-3])(:[0-5]\d){1,2})?/.exec(text.slice(10))![0] === text.slice(10, 19);
};
const NOT_A_DAY = 'a day and time that the calendar has';
/** Date, and wall-clock time where the party is. */
export const isoDate = z
  .string()
  .regex(/^\d{4}-\d{2}-\d{2}$/)
  .refine(inCalendar, NOT_A_DAY);
export const isoDateTime = z
  .string()
  .regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2})?$/)
  .refine(inCalendar, NOT_A_DAY);
/** An instant, UTC, always with milliseconds: then the order of texts is the order of time. */
export const instant = z
  .string()
  .regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z$/)
  .refine(inCalendar, NOT_A_DAY);
export const digest = z.string().regex(/^[0-9a-f]{64}$/);
export const line = z.string().max(300);
