import { practiceLoad } from '../../dance/practice.ts';
import type { Rule } from '../finding.ts';
import { swapFixes } from '../spots.ts';
import { capital, many, nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'too-many-moves',
  about: 'moves',
  severity: 'warns',
  reads: ['plan', 'lessons'],
  what: 'The dance has more moves to learn than the lessons left allow.',
  why: 'Three moves danced with ease look better than eight that are thought about.',
  todo: 'Dance the same move on the same kind of change, and leave one out.',
  source: 'common practice, no source',
  fixes: ['placed'],
  run({ board, danced }) {
    const { lessonsLeft } = board.plan;
    if (!danced || lessonsLeft === null) return [];
    const moves = danced.used.map(({ move }) => move);
    const load = practiceLoad(moves, board.lessons!.readiness, lessonsLeft);
    if (load.over <= 0) return [];
    return [
      {
        place: nowhere,
        figures: { toLearn: load.toLearn.length, lessonsLeft, most: load.most },
        sentence: `${capital(many(load.toLearn.length, 'move'))} ${load.toLearn.length === 1 ? 'is' : 'are'} still to learn, with ${many(lessonsLeft, 'lesson')} left.`,
        *fixes() {
          const times = (id: string) => danced.laid.filter(({ move }) => move.id === id).length;
          const used = new Set(moves.map(({ id }) => id));
          const seldom = danced.laid
            .filter(({ move }) => load.toLearn.includes(move.id))
            .sort((a, b) => times(a.move.id) - times(b.move.id))
            .slice(0, 3);
          for (const laid of seldom) yield* swapFixes(board.plan, danced, laid, (move) => used.has(move.id));
        },
      },
    ];
  },
};
