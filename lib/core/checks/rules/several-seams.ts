import type { Rule } from '../finding.ts';
import { many, nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'several-seams',
  about: 'edit',
  severity: 'hints',
  reads: ['plan'],
  what: 'The edit has more than one join.',
  why: 'Each join is a place where something can be heard, and where a DJ with an own copy can go wrong.',
  todo: 'See whether one longer cut, or a fade, does as well; otherwise hand over the finished file.',
  source: 'common practice, no source',
  fixes: [],
  run({ danced }) {
    const joins = danced?.score.seams.length ?? 0;
    if (joins < 2) return [];
    const sentence = `The edit has ${many(joins, 'join')}: one is easier to hide, and a finished file is safest.`;
    return [{ place: nowhere, figures: { joins }, sentence }];
  },
};
