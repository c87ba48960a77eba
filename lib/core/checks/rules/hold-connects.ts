import { basicOf } from '../../dance/basics.ts';
import { onBoard } from '../../dance/counts.ts';
import type { DanceHold, Move } from '../../dance/move.ts';
import type { Draft, Rule } from '../finding.ts';
import { swapFixes } from '../spots.ts';
import { nameOf, placeOfCount, quoted } from '../words.ts';

export const rule: Rule = {
  id: 'hold-connects',
  about: 'moves',
  severity: 'warns',
  reads: ['plan'],
  what: 'A move begins in another dance hold than what comes before it ends in. With a whole basic between it is only a hint.',
  why: 'The couple have to find each other’s hands while the music goes on.',
  todo: 'Change the hold during the basic, put a move between that changes it, or dance another.',
  source: 'the moves themselves',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced) return [];
    const { plan } = board;
    const { score, grid, whole } = danced;
    const basic = basicOf(plan);
    const size = basic ? onBoard(basic, basic.counts, grid) : Number.POSITIVE_INFINITY;
    return whole.flatMap((laid, i): Draft[] => {
      const before = whole[i - 1];
      if (!before || laid.at < before.end) return [];
      const withBasic = laid.at - before.end >= size;
      const from: Move = withBasic ? basic! : before.move;
      const broken: Draft[] = [];
      // Out of a move, into the basic.
      if (withBasic && before.move.holdAfter !== basic!.holdBefore) {
        broken.push({
          about: `${before.id}-after`,
          severity: 'hints',
          place: placeOfCount(score, before.end),
          figures: { has: before.move.holdAfter, needs: basic!.holdBefore },
          sentence: `${nameOf(before)} ends ${inHold(before.move.holdAfter)}: take the basic ${inHold(basic!.holdBefore)} again.`,
        });
      }
      if (from.holdAfter === laid.move.holdBefore) return broken;
      const toSwap = laid.part === 'placed' ? laid : before.part === 'placed' && !withBasic ? before : null;
      broken.push({
        about: laid.id,
        severity: withBasic ? 'hints' : 'warns',
        place: placeOfCount(score, laid.at),
        figures: { has: from.holdAfter, needs: laid.move.holdBefore },
        sentence: `${quoted(from.name)} ends ${inHold(from.holdAfter)}, and ${nameOf(laid)} begins ${inHold(laid.move.holdBefore)}.`,
        fixes: () =>
          toSwap
            ? swapFixes(plan, danced, toSwap, (move) =>
                toSwap === laid
                  ? move.holdBefore === from.holdAfter
                  : move.holdAfter === laid.move.holdBefore,
              )
            : [],
      });
      return broken;
    });
  },
};

const inHold = (hold: DanceHold): string =>
  hold === 'closed' || hold === 'open' ? `in ${hold} hold` : hold === 'one hand' ? 'with one hand' : hold;
