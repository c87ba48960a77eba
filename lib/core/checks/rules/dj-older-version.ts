import { answerState } from '../../agreed/answerState.ts';
import type { Rule } from '../finding.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'dj-older-version',
  about: 'handover',
  severity: 'warns',
  reads: ['plan', 'answer'],
  what: 'The DJ said yes to a version that has been changed since, or plays the other file now.',
  why: 'On the night something else would be played than what was agreed.',
  todo: 'Ask again; the page says what differs.',
  source: 'common practice, no source',
  fixes: [],
  run({ board }) {
    const state = answerState(board);
    if (state.kind === 'yes to the other file')
      return [{ place: nowhere, figures: { changes: 1 }, sentence: state.words }];
    if (state.kind !== 'yes to an older version') return [];
    const need = state.newFile ? ' The DJ needs a new file.' : '';
    return [
      {
        place: nowhere,
        figures: { changes: state.differs.length },
        sentence: `The DJ said yes to an older version. ${state.differs.join(' ')}${need}`.trim(),
      },
    ];
  },
};
