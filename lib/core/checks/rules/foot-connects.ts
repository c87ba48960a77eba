import type { Rule } from '../finding.ts';
import { shiftFixes } from '../spots.ts';
import { nameOf, partners, placeOfCount } from '../words.ts';

export const rule: Rule = {
  id: 'foot-connects',
  about: 'moves',
  severity: 'hints',
  reads: ['plan'],
  what: 'A move that follows another at once begins with the foot that is not free.',
  why: 'Somebody has to change weight in no time.',
  todo: 'Put a basic between, or practise the change of weight.',
  source: 'the moves themselves',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced) return [];
    return danced.whole.flatMap((laid, i) => {
      const before = danced.whole[i - 1];
      if (!before || before.end !== laid.at) return [];
      const { footAfter } = before.move;
      const { footBefore } = laid.move;
      if (footAfter === 'either' || footBefore === 'either' || footAfter === footBefore) return [];
      const { lead } = partners(board.plan);
      return [
        {
          about: laid.id,
          place: placeOfCount(danced.score, laid.at),
          figures: { free: footAfter, needs: footBefore },
          sentence: `After ${nameOf(before)}, ${lead}’s ${footAfter} foot is free; ${nameOf(laid)} begins with the ${footBefore}.`,
          fixes: () => (laid.part === 'placed' ? shiftFixes(board.plan, danced, laid) : []),
        },
      ];
    });
  },
};
