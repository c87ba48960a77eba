import { copyProblem, copyStanding } from '../../agreed/copy.ts';
import type { Rule } from '../finding.ts';
import { HANDING_OVER } from '../time.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'copy-not-checked',
  about: 'handover',
  severity: 'warns',
  reads: ['plan', 'answer'],
  from: HANDING_OVER,
  what: 'The DJ plays an own copy, and it is not known whether it is the same recording.',
  why: 'Another version of the same song has other times.',
  todo: 'Ask the DJ to drop the file on the page: nothing is uploaded.',
  source: 'common practice, no source',
  fixes: [],
  run({ board }) {
    const standing = copyStanding(board);
    switch (standing.kind) {
      case 'not checked': {
        const sentence = 'The DJ plays an own copy that has not been compared with yours yet.';
        return [{ place: nowhere, figures: {}, sentence, severity: 'hints' }];
      }
      case 'being checked':
      case 'failed':
      case 'unsure': {
        const sentence = `The DJ’s own copy ${copyProblem(standing)}: they have to check it on their page.`;
        return [{ place: nowhere, figures: { at: standing.at }, sentence }];
      }
      default:
        return [];
    }
  },
};
