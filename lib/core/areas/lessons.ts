import { z } from '../zod.ts';
import type { AreaData, AreaShape } from './area.ts';
import { field } from './field.ts';
import { instant, isoDate } from './people.ts';

/** A lesson's page: what was taught and the homework (tasks) are its rich text. */
export const lesson = z.object({ date: isoDate, title: z.string().max(120), writtenAt: instant });
/** How well a move goes: 0 new, 1 with help, 2 alone, 3 by heart. The entry's id is the move's. */
export const readiness = z.object({
  level: z.union([z.literal(0), z.literal(1), z.literal(2), z.literal(3)]),
  at: instant,
});

export const lessonsShape = {
  name: 'lessons',
  version: 1,
  registers: {},
  collections: {
    lessons: field(lesson, { of: 'lessons', called: 'a lesson’s page' }),
    readiness: field(readiness, { of: 'lessons', called: 'how well a move goes' }),
  },
  richText: ['lessons'],
  owner: null,
} as const satisfies AreaShape;
export type Lessons = AreaData<typeof lessonsShape>;
