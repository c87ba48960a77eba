import type { LaidMove } from '../../dance/place.ts';
import type { Rule } from '../finding.ts';
import { shiftFixes, swapFixes } from '../spots.ts';
import { inWords, many, nameOf, partners, placeOfCount } from '../words.ts';

export const rule: Rule = {
  id: 'preparation',
  about: 'moves',
  severity: 'warns',
  reads: ['plan'],
  local: 'beside',
  what: 'The counts on which a move is led are taken by the move before it, or lie before the first step.',
  why: 'A move that is led too late comes as a surprise.',
  todo: 'Leave some basic before it.',
  source: 'the move itself',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced) return [];
    const { score, walk, whole } = danced;
    return whole.flatMap((laid, i) => {
      if (laid.part === 'ending' && laid.id !== 'ending-0') return [];
      const needed = laid.at - laid.preparationFrom;
      const before = lastBefore(whole, i);
      // What overlaps outright has its own rule.
      if (needed === 0 || (before && before.end > laid.at)) return [];
      const free = Math.max(before?.end ?? 0, walk?.firstStep ?? 0);
      if (laid.preparationFrom >= free || laid.at < free) return [];
      const has = laid.at - free;
      const { lead } = partners(board.plan);
      const toMove = laid.part === 'placed' ? laid : before?.part === 'placed' ? before : null;
      return [
        {
          about: laid.id,
          place: placeOfCount(score, laid.at),
          figures: { needed, left: has },
          sentence: `To lead ${nameOf(laid)}, ${lead} needs ${many(needed, 'count')} of basic before it, and has ${has === 0 ? 'none' : inWords(has)}.`,
          *fixes() {
            if (!toMove) return;
            yield* shiftFixes(board.plan, danced, toMove);
            yield* swapFixes(board.plan, danced, toMove, (move) => move.preparation <= has);
          },
        },
      ];
    });
  },
};

/** The last of those that begin on an earlier count; they are in order. A move may be led during a link as during the basic. */
function lastBefore(whole: readonly LaidMove[], i: number): LaidMove | undefined {
  let k = i - 1;
  while (k >= 0 && (whole[k]!.at === whole[i]!.at || whole[k]!.move.link)) k--;
  return whole[k];
}
