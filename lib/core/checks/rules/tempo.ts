import type { Rule } from '../finding.ts';
import { isTooFast, SLOWEST, secondsACount, suitsPace } from '../pace.ts';
import { swapFixes } from '../spots.ts';
import { nameOf, placeOfCount } from '../words.ts';

export const rule: Rule = {
  id: 'tempo',
  about: 'moves',
  severity: 'warns',
  reads: ['plan'],
  local: 'itself',
  what: 'A move is too fast or too slow at the speed of this music.',
  why: 'A turn that is rushed is not safe; one that crawls falls over.',
  todo: 'Dance another move, or count at another level.',
  source: 'the move itself, from memory',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced) return [];
    return danced.whole
      .filter(({ move }) => !suitsPace(move, danced))
      .map((laid) => {
        const each = secondsACount(laid.move, danced);
        return {
          about: laid.id,
          place: placeOfCount(danced.score, laid.at),
          figures: { secondsACount: each, least: laid.move.leastSeconds, most: SLOWEST },
          sentence: isTooFast(laid.move, danced)
            ? `${nameOf(laid)} wants at least ${laid.move.leastSeconds} s a count; this music gives ${each.toFixed(2)} s.`
            : `${nameOf(laid)} is very slow here: ${each.toFixed(1)} s a count.`,
          fixes: () => (laid.part === 'placed' ? swapFixes(board.plan, danced, laid, () => true) : []),
        };
      });
  },
};
