import { daysBetween } from '../../dayCount.ts';
import type { Rule } from '../finding.ts';
import { many, nameOf, partners, placeOfCount } from '../words.ts';

/** Days before the party from which a move should go without help; common practice, no source. */
const NEAR = 14;
const ALONE = 2;
const WORDS = ['new', 'danced with help'] as const;

export const rule: Rule = {
  id: 'not-ready',
  about: 'moves',
  severity: 'warns',
  reads: ['plan', 'lessons'],
  from: NEAR,
  what: 'Close to the day, a move of the dance still needs help.',
  why: 'On the night there is no help, and nerves besides.',
  todo: 'Practise it first, or dance the basic there.',
  source: 'common practice, no source',
  fixes: [],
  run({ board, danced, today }) {
    const { date } = board.plan;
    if (!danced || !date) return [];
    const days = daysBetween(today, date);
    const level = (id: string) => board.lessons!.readiness.find((r) => r.id === id)?.level ?? 0;
    const { lead, follow } = partners(board.plan);
    return danced.used
      .filter(({ move }) => !move.link && level(move.id) < ALONE)
      .map((laid) => ({
        about: laid.move.id,
        place: placeOfCount(danced.score, laid.at),
        figures: { days, readiness: level(laid.move.id) },
        sentence: `${nameOf(laid)} is ${WORDS[level(laid.move.id) as 0 | 1]}, and ${lead} and ${follow} dance ${days === 0 ? 'today' : `in ${many(days, 'day')}`}.`,
      }));
  },
};
