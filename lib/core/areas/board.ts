import type { Answer } from './answer.ts';
import { answerShape } from './answer.ts';
import type { Lessons } from './lessons.ts';
import { lessonsShape } from './lessons.ts';
import type { Plan } from './plan.ts';
import { planShape } from './plan.ts';
import type { Remarks } from './remarks.ts';
import { remarksShape } from './remarks.ts';
import type { Show } from './show.ts';
import { showShape } from './show.ts';

/** The areas of a board, in the order of the rights table (design, section 9). */
export const areas = {
  plan: planShape,
  lessons: lessonsShape,
  remarks: remarksShape,
  answer: answerShape,
  show: showShape,
} as const;
export type AreaName = keyof typeof areas;

/** One couple's dance as plain data. An area that the reader may not see is null. */
export interface Board {
  plan: Plan;
  lessons: Lessons | null;
  remarks: Remarks | null;
  answer: Answer | null;
  show: Show | null;
}
