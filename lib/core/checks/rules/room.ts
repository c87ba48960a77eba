import { acrossOf } from '../../dance/floor.ts';
import type { Rule } from '../finding.ts';
import { swapFixes } from '../spots.ts';
import { nameOf, placeOfCount } from '../words.ts';

export const rule: Rule = {
  id: 'room',
  about: 'moves',
  severity: 'warns',
  reads: ['plan', 'show'],
  local: 'itself',
  what: 'A move needs more room than the floor has.',
  why: 'It ends at a table or a guest.',
  todo: 'Dance a smaller one, or ask for more floor.',
  source: 'the move itself, from memory',
  fixes: ['placed'],
  run({ board, danced }) {
    const floor = board.show?.floor;
    if (!danced || !floor) return [];
    const across = acrossOf(floor);
    return danced.whole
      .filter(({ move }) => move.room > across)
      .map((laid) => ({
        about: laid.id,
        place: placeOfCount(danced.score, laid.at),
        figures: { needs: laid.move.room, floor: across },
        sentence: `${nameOf(laid)} needs ${laid.move.room} m across; the floor has ${across} m.`,
        fixes: () =>
          laid.part === 'placed' ? swapFixes(board.plan, danced, laid, (move) => move.room <= across) : [],
      }));
  },
};
