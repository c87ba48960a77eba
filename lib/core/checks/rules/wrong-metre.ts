import { dancedMetre, suitsMetre } from '../../dance/counts.ts';
import type { Rule } from '../finding.ts';
import { swapFixes } from '../spots.ts';
import { nameOf, placeOfCount } from '../words.ts';

export const rule: Rule = {
  id: 'wrong-metre',
  about: 'moves',
  severity: 'blocks',
  reads: ['plan'],
  local: 'itself',
  what: 'A move is made for bars of three, and the music goes in four, or the other way round.',
  why: 'It never meets the music again.',
  todo: 'Dance a move of this metre.',
  source: 'the move itself',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced) return [];
    const { grid } = danced;
    const metre = dancedMetre(grid);
    return danced.whole
      .filter((laid) => !suitsMetre(laid.move, grid))
      .map((laid) => ({
        about: laid.id,
        place: placeOfCount(danced.score, laid.at),
        figures: { move: laid.move.metre, song: metre },
        sentence: `${nameOf(laid)} is danced in ${laid.move.metre === 3 ? 'three' : 'four'}; this song goes in ${metre === 3 ? 'three' : 'four'}.`,
        fixes: () => (laid.part === 'placed' ? swapFixes(board.plan, danced, laid, () => true) : []),
      }));
  },
};
