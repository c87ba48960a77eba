import { answerState } from '../../agreed/answerState.ts';
import type { Rule } from '../finding.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'dj-proposal-open',
  about: 'handover',
  severity: 'warns',
  reads: ['plan', 'answer'],
  what: 'The DJ has suggested something else, and nobody has replied.',
  why: 'Each side believes that its own version is played.',
  todo: 'Accept it, which makes it the edit, or decline it.',
  source: 'common practice, no source',
  fixes: [],
  run({ board }) {
    const state = answerState(board);
    if (state.kind !== 'proposal open') return [];
    return [
      {
        place: nowhere,
        figures: { changes: state.differs.length },
        sentence: `${state.words} ${state.differs.join(' ')}`.trim(),
      },
    ];
  },
};
