import { copyCheckOf } from '../../agreed/answerState.ts';
import type { Rule } from '../finding.ts';
import { nowhere } from '../words.ts';

const SAID = {
  'cut differently': 'The DJ’s copy is cut differently from the recording that you rehearse with.',
  'another recording': 'The DJ’s copy is another recording.',
  'older finished file': 'The DJ has an older finished file loaded.',
} as const;

export const rule: Rule = {
  id: 'copy-differs',
  about: 'handover',
  severity: 'blocks',
  reads: ['plan', 'answer'],
  what: 'The DJ’s copy is not the recording that the couple rehearse with.',
  why: 'Every time and every cue would be somewhere else.',
  todo: 'Give the DJ the finished file.',
  source: 'design',
  fixes: [],
  run({ board }) {
    const copy = copyCheckOf(board);
    if (!copy) return [];
    if (
      copy.verdict !== 'cut differently' &&
      copy.verdict !== 'another recording' &&
      copy.verdict !== 'older finished file'
    ) {
      return [];
    }
    return [
      {
        place: nowhere,
        figures: { verdict: copy.verdict, confidence: copy.confidence },
        sentence: `${SAID[copy.verdict]} Give the DJ the finished file.`,
      },
    ];
  },
};
