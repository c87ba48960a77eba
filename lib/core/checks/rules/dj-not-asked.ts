import { answerState } from '../../agreed/answerState.ts';
import type { Rule } from '../finding.ts';
import { HANDING_OVER } from '../time.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'dj-not-asked',
  about: 'handover',
  severity: 'warns',
  reads: ['plan', 'answer'],
  from: HANDING_OVER,
  what: 'Nobody has asked the DJ yet.',
  why: 'What the DJ does not know, the DJ cannot play.',
  todo: 'Choose the edit, then ask.',
  source: 'common practice, no source',
  fixes: [],
  run({ board }) {
    if (answerState(board).kind !== 'not asked' || !board.plan.recording) return [];
    const who = board.plan.musicBy === 'dj' || !board.plan.musicBy ? 'The DJ' : 'Whoever plays the music';
    return [{ place: nowhere, figures: {}, sentence: `${who} has not been asked yet.` }];
  },
};
