import type { Rule } from '../finding.ts';
import { shiftFixes } from '../spots.ts';
import { many, nameOf, placeOfCount } from '../words.ts';

export const rule: Rule = {
  id: 'overlap',
  about: 'moves',
  severity: 'blocks',
  reads: ['plan'],
  local: 'beside',
  what: 'Two placed moves want the same counts.',
  why: 'Nobody can dance both.',
  todo: 'Shift one of them.',
  source: 'design',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced) return [];
    const played = danced.laid.filter((laid) => !laid.removedByEdit);
    // They are in order: what still goes on lies among the few last begun.
    let going: typeof played = [];
    return played.flatMap((laid) => {
      going = going.filter((other) => other.end > laid.at);
      const before = going[0];
      going.push(laid);
      if (!before) return [];
      const shared = Math.min(before.end, laid.end) - laid.at;
      return [
        {
          about: laid.id,
          place: placeOfCount(danced.score, laid.at),
          figures: { counts: shared, other: before.move.name },
          sentence: `${nameOf(laid)} begins while ${nameOf(before)} is still danced: they share ${many(shared, 'count')}.`,
          *fixes() {
            yield* shiftFixes(board.plan, danced, laid);
            yield* shiftFixes(board.plan, danced, before);
          },
        },
      ];
    });
  },
};
