import type { Question } from '../areas/lessons.ts';

/** How many questions wait, and for whom. */
export interface Waiting {
  /** Without an answer, and of these the ones that the instructor has not had before them. */
  open: number;
  unread: number;
  /** Answered, and the couple have not had the answer before them. */
  answered: number;
}

export const waitingOf = (questions: readonly Question[]): Waiting => ({
  open: questions.filter(isOpen).length,
  unread: questions.filter((one) => isOpen(one) && one.readAt === null).length,
  answered: questions.filter((one) => !isOpen(one) && one.answerReadAt === null).length,
});

export const isOpen = ({ answeredAt }: Question): boolean => answeredAt === null;

/** Those that wait for an answer first, then the latest. */
export const inOrder = (questions: readonly Question[]): Question[] =>
  [...questions].sort(
    (a, b) => Number(isOpen(b)) - Number(isOpen(a)) || b.at.localeCompare(a.at) || (a.id < b.id ? -1 : 1),
  );
