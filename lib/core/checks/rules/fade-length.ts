import { recordTime, wholeMicros } from '../../units.ts';
import type { Rule } from '../finding.ts';
import { placeOfRecord, seconds } from '../words.ts';

/** Fades on records take 5 to 15 s; common practice, no source. */
const SHORTEST = 5;
const LONGEST = 15;

export const rule: Rule = {
  id: 'fade-length',
  about: 'edit',
  severity: 'hints',
  reads: ['plan'],
  what: 'The fade is very short or very long.',
  why: 'A short one sounds like a mishap; in a long one nobody knows when the dance is over.',
  todo: 'Let it take between 5 and 15 seconds, ending where it ends now.',
  source: 'common practice, no source',
  fixes: ['edit'],
  run({ board, danced }) {
    const edit = board.plan.edit;
    if (!danced || edit?.end.kind !== 'fade') return [];
    const { end } = edit;
    const wanted = Math.max(SHORTEST, Math.min(LONGEST, end.length));
    if (wanted === end.length) return [];
    const from = wholeMicros(end.from + end.length - wanted);
    const fix = {
      words: `Let it take ${wanted} s`,
      changes: [
        {
          register: 'edit' as const,
          value: { ...edit, end: { ...end, from: recordTime(from), length: wanted } },
        },
      ],
    };
    return [
      {
        place: placeOfRecord(board.plan, danced.score, end.from),
        figures: { length: end.length },
        sentence: `The fade takes ${seconds(end.length)}, which is ${end.length < wanted ? 'short' : 'long'}.`,
        fixes: () => (from > edit.start ? [fix] : []),
      },
    ];
  },
};
