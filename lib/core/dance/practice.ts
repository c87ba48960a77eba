import type { Move } from './move.ts';

/** How well a move goes: 0 new, 1 with help, 2 alone, 3 by heart. */
export interface Readiness {
  id: string;
  level: 0 | 1 | 2 | 3;
}

/** Goes without help. */
export const ALONE = 2;

/** How well a move goes. What nobody has said is new, for checks and proposals alike. */
export const levelOf = (readiness: readonly Readiness[], id: string): Readiness['level'] =>
  readiness.find((one) => one.id === id)?.level ?? 0;

interface PracticeLoad {
  /** Ids of the dance's different moves, basics and links apart. */
  distinct: string[];
  /** Of these, the ones that do not yet go without help, newest last. */
  toLearn: string[];
  /** How many may still be learned in the lessons left. */
  most: number;
  /** How many too many; 0 when it fits. */
  over: number;
  words: string;
}

/** A lesson brings about one new move to where it goes alone, the last lesson is for the whole; common practice, no source. */
export const mostToLearn = (lessonsLeft: number): number => Math.max(0, lessonsLeft - 1);

/** The dance's different moves against the lessons left and how well each goes. */
export function practiceLoad(
  moves: readonly Move[],
  readiness: readonly Readiness[],
  lessonsLeft: number,
): PracticeLoad {
  const level = (id: string) => levelOf(readiness, id);
  const distinct = [...new Set(moves.filter(({ basic, link }) => !basic && !link).map(({ id }) => id))];
  const toLearn = distinct
    .filter((id) => level(id) < ALONE)
    .sort((a, b) => level(b) - level(a) || (a < b ? -1 : 1));
  const over = Math.max(0, toLearn.length - mostToLearn(lessonsLeft));
  const words =
    over > 0
      ? `${toLearn.length} moves are still to learn in ${lessonsLeft} lessons: leave ${over} out, or repeat one that goes well.`
      : `${distinct.length} different moves, ${toLearn.length} still to learn: that fits.`;
  return { distinct, toLearn, most: mostToLearn(lessonsLeft), over, words };
}
