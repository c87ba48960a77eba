import { z } from 'zod';

/** The people who open a board. Crew (camera, lights, MC) reads and writes nothing. */
export const role = z.enum(['instructor', 'couple', 'dj', 'planner', 'crew']);
export type Role = z.infer<typeof role>;

export const person = z.object({ name: z.string().max(80), part: z.enum(['lead', 'follow']) });
/** The couple are two named people; which of them leads may change. */
export const couple = z.object({ one: person, other: person });
export type Couple = z.infer<typeof couple>;

/** Date, and wall-clock time where the party is. */
export const isoDate = z.string().regex(/^\d{4}-\d{2}-\d{2}$/);
export const isoDateTime = z.string().regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2})?$/);
/** An instant, UTC. */
export const instant = z.string().regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d{1,3})?Z$/);
export const digest = z.string().regex(/^[0-9a-f]{64}$/);
export const line = z.string().max(300);
