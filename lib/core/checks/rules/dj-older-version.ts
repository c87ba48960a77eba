import { answerState, differsWords } from '../../agreed/answerState.ts';
import type { Rule } from '../finding.ts';
import { nowhere } from '../words.ts';

/** Differences that a sentence names; the page names all. */
const MOST = 4;

export const rule: Rule = {
  id: 'dj-older-version',
  about: 'handover',
  severity: 'warns',
  reads: ['plan', 'answer', 'show'],
  what: 'Since the DJ said yes the version has been changed, or something else that they read, or they play the other file now.',
  why: 'On the night something else would be played than what was agreed.',
  todo: 'Ask again; the page says what differs.',
  source: 'common practice, no source',
  fixes: [],
  run({ board }) {
    const state = answerState(board);
    if (state.kind === 'yes to the other file')
      return [{ place: nowhere, figures: { changes: 1 }, sentence: state.words }];
    if (state.kind === 'yes to other facts') {
      const sentence = `The DJ said yes before this changed: ${differsWords(state.differs.slice(0, MOST))}`;
      return [{ place: nowhere, figures: { changes: state.differs.length }, sentence }];
    }
    if (state.kind !== 'yes to an older version') return [];
    const need = state.newFile ? ' The DJ needs a new file.' : '';
    return [
      {
        place: nowhere,
        figures: { changes: state.differs.length },
        sentence:
          `The DJ said yes to an older version. ${differsWords(state.differs.slice(0, MOST))}${need}`.trim(),
      },
    ];
  },
};
