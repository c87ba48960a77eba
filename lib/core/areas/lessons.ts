import { z } from '../zod.ts';
import type { AreaData, AreaShape } from './area.ts';
import { field } from './field.ts';
import { instant, isoDate } from './people.ts';

/** A lesson's page: what was taught and the homework (tasks) are its rich text. */
export const lesson = z.object({
  date: isoDate,
  title: z.string().check(z.maxLength(120)),
  writtenAt: instant,
});
/** How well a move goes: 0 new, 1 with help, 2 alone, 3 by heart. The entry's id is the move's. */
export const readiness = z.object({
  level: z.union([z.literal(0), z.literal(1), z.literal(2), z.literal(3)]),
  at: instant,
});

/** Letters of a question, and of its answer. */
export const LONGEST_QUESTION = 2000;
const said = z.string().check(z.maxLength(LONGEST_QUESTION));

/** What a couple ask their instructor, with the answer. Who else is to know it is told in a remark. */
export const question = z.object({
  by: z.string().check(z.maxLength(120)),
  at: instant,
  words: said.check(z.minLength(1)),
  /** When the instructor had it before them; null until then. */
  readAt: z.nullable(instant),
  answer: said,
  answeredBy: z.string().check(z.maxLength(120)),
  /** Null while there is no answer. */
  answeredAt: z.nullable(instant),
  /** When the couple had the answer before them; null until then. */
  answerReadAt: z.nullable(instant),
  /** When it was told to everybody under remarks; null while it is between the two. */
  toldAt: z.nullable(instant),
});

/**
 * Where a line of homework is danced, as somebody chose it; the entry's id is that of the line (`drillId`). `phrase` counts from 0
 * within the section as it is danced; null for all of the section.
 */
export const drill = z.object({
  section: z.string().check(z.maxLength(60)),
  phrase: z.nullable(z.int().check(z.minimum(0), z.maximum(500))),
});

export const lessonsShape = {
  name: 'lessons',
  version: 1,
  registers: {},
  collections: {
    lessons: field(lesson, { of: 'lessons', called: 'a lesson’s page' }),
    readiness: field(readiness, { of: 'lessons', called: 'how well a move goes' }),
    questions: field(question, { of: 'lessons', called: 'a question to the instructor' }),
    drills: field(drill, { of: 'lessons', called: 'where a line of homework is danced' }),
  },
  richText: ['lessons'],
  owner: null,
} as const satisfies AreaShape;
export type Lessons = AreaData<typeof lessonsShape>;
export type Question = Lessons['questions'][number];
