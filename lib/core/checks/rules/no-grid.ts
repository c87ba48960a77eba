import type { Rule } from '../finding.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'no-grid',
  about: 'song',
  severity: 'blocks',
  reads: ['plan'],
  what: 'The board has no song, or its beats and bars are not known.',
  why: 'Every move, phrase and cue hangs on the counts of the song.',
  todo: 'Add the recording and let it be heard, or tap along for eight beats.',
  source: 'common practice, no source',
  fixes: [],
  run({ board, danced }) {
    if (danced) return [];
    const sentence = board.plan.recording
      ? 'The beats of this song are not known yet: let it be heard, or tap along.'
      : 'There is no song on this board yet: add the recording that you dance to.';
    return [{ place: nowhere, figures: { recording: board.plan.recording ? 'yes' : 'no' }, sentence }];
  },
};
