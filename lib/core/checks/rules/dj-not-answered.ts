import { answerState } from '../../agreed/answerState.ts';
import { daysBetween } from '../../calendar.ts';
import type { Rule } from '../finding.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'dj-not-answered',
  about: 'handover',
  severity: 'warns',
  reads: ['plan', 'answer'],
  what: 'The DJ has not answered by the day that was asked for.',
  why: 'A file that nobody has tried is a surprise on the night.',
  todo: 'Call.',
  source: 'common practice, no source',
  fixes: [],
  run({ board, today }) {
    const { kind, answerBy } = answerState(board);
    if (kind !== 'asked' || !answerBy || today <= answerBy) return [];
    const days = daysBetween(answerBy, today);
    return [
      {
        place: nowhere,
        figures: { days, answerBy },
        sentence: `The DJ has not answered; it was wanted ${days === 1 ? 'yesterday' : `${days} days ago`}.`,
      },
    ];
  },
};
