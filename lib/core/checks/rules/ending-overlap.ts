import type { Rule } from '../finding.ts';
import { shiftFixes } from '../spots.ts';
import { many, nameOf, placeOfCount } from '../words.ts';

export const rule: Rule = {
  id: 'ending-overlap',
  about: 'ending',
  severity: 'blocks',
  reads: ['plan'],
  local: 'itself',
  what: 'A placed move runs into the ending, or lies after it.',
  why: 'The closing pose cannot land on its word then.',
  todo: 'Put the move earlier.',
  source: 'design',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced?.ending.ok) return [];
    const { moves } = danced.ending.value;
    const from = moves[0]!.at;
    return danced.laid
      .filter((laid) => !laid.removedByEdit && laid.end > from)
      .map((laid) => ({
        about: laid.id,
        place: placeOfCount(danced.score, laid.at),
        figures: { counts: laid.end - from },
        sentence:
          laid.at >= moves.at(-1)!.end
            ? `${nameOf(laid)} is placed after the closing pose.`
            : `${nameOf(laid)} runs ${many(laid.end - from, 'count')} into the ending.`,
        fixes: () => shiftFixes(board.plan, danced, laid),
      }));
  },
};
