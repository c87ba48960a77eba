import { basicOf } from '../../dance/basics.ts';
import type { LaidMove } from '../../dance/place.ts';
import type { Rule } from '../finding.ts';
import { swapFixes } from '../spots.ts';
import { nameOf, placeOfCount } from '../words.ts';

export const rule: Rule = {
  id: 'hold-connects',
  about: 'moves',
  severity: 'warns',
  reads: ['plan'],
  what: 'A move begins in another dance hold than the one before it ends in.',
  why: 'The couple have to find each other’s hands while the music goes on.',
  todo: 'Put a move between that changes the hold, or dance another.',
  source: 'the moves themselves',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced) return [];
    const { plan } = board;
    const basic = basicOf(plan);
    return danced.whole.flatMap((laid, i) => {
      const before: LaidMove | undefined = danced.whole[i - 1];
      if (!before) return [];
      // With a whole basic between, its own hold is what the next move begins from; changing into it is the couple's affair.
      const room = laid.at - before.end;
      if (room < 0 || before.move.holdAfter === laid.move.holdBefore) return [];
      if (basic && room > 0 && before.move.holdAfter === basic.holdBefore) return [];
      const toSwap = laid.part === 'placed' ? laid : before.part === 'placed' ? before : null;
      return [
        {
          about: laid.id,
          place: placeOfCount(danced.score, laid.at),
          figures: { has: before.move.holdAfter, needs: laid.move.holdBefore },
          sentence: `${nameOf(before)} ends ${inHold(before.move.holdAfter)}, and ${nameOf(laid)} begins ${inHold(laid.move.holdBefore)}.`,
          fixes: () =>
            toSwap
              ? swapFixes(plan, danced, toSwap, (move) =>
                  toSwap === laid
                    ? move.holdBefore === before.move.holdAfter
                    : move.holdAfter === laid.move.holdBefore,
                )
              : [],
        },
      ];
    });
  },
};

const inHold = (hold: string): string =>
  hold === 'closed' || hold === 'open' ? `in ${hold} hold` : hold === 'one hand' ? 'with one hand' : hold;
