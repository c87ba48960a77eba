import { setFirstStep } from '../../dance/walkOn.ts';
import type { Rule } from '../finding.ts';
import { placeOfCount, whereabouts } from '../words.ts';

export const rule: Rule = {
  id: 'no-walk-on',
  about: 'walk-on',
  severity: 'hints',
  reads: ['plan'],
  what: 'Nobody has said where the couple come from, or on which count dancing starts.',
  why: 'The first ten seconds decide whether the couple feel at ease.',
  todo: 'Measure the way, and choose the first step.',
  source: 'common practice, no source',
  fixes: ['walkOn'],
  run({ board, danced }) {
    if (!danced?.walk || (board.plan.walkOn && board.plan.walkOn.firstStep !== null)) return [];
    const { score, walk } = danced;
    const where = whereabouts(board.plan, danced, walk.proposed);
    return [
      {
        place: placeOfCount(score, walk.proposed),
        figures: { seconds: walk.seconds, counts: walk.counts },
        sentence: board.plan.walkOn
          ? 'The first step is not chosen yet.'
          : 'How you come on is not planned yet: say from where, and how far it is.',
        fixes: () => [
          { words: `First step ${where}`, changes: setFirstStep(board.plan, score, walk.proposed) },
        ],
      },
    ];
  },
};
