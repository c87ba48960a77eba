import { answerState, copyCheckOf } from '../../agreed/answerState.ts';
import type { Rule } from '../finding.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'copy-not-checked',
  about: 'handover',
  severity: 'hints',
  reads: ['plan', 'answer'],
  what: 'The DJ plays an own copy, and it has not been compared with the recording.',
  why: 'Another version of the same song has other times.',
  todo: 'Ask the DJ to drop the file on the page: nothing is uploaded.',
  source: 'common practice, no source',
  fixes: [],
  run({ board }) {
    const plays = board.answer!.plays ?? answerState(board).answer?.plays ?? null;
    if (plays !== 'own copy' || copyCheckOf(board)) return [];
    return [
      {
        place: nowhere,
        figures: {},
        sentence: 'The DJ plays an own copy that has not been compared with yours yet.',
      },
    ];
  },
};
