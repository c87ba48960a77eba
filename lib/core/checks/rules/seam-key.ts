import type { Rule } from '../finding.ts';
import { joinFigures, seamsOf } from '../seams.ts';
import { whereabouts } from '../words.ts';

export const rule: Rule = {
  id: 'seam-key',
  about: 'edit',
  severity: 'warns',
  reads: ['plan'],
  what: 'The harmony takes a larger step at a join than it does elsewhere in this song.',
  why: 'A jump of key or chord where none belongs is heard even by people who do not listen.',
  todo: 'Listen to the join; where it shows, join at another place.',
  source: 'the song itself: a larger step than 19 of 20 of its neighbouring bars take',
  fixes: [],
  run({ board, danced }) {
    if (!danced?.heard) return [];
    const { heard } = danced;
    return seamsOf(board.plan, danced).flatMap(({ seam, cut, index, place }) => {
      const { figures, usual } = joinFigures(danced, heard, cut);
      if (figures.harmony <= usual.most.harmony) return [];
      return [
        {
          about: String(index),
          place,
          figures: { distance: figures.harmony, usual: usual.most.harmony },
          sentence: `At the join ${whereabouts(board.plan, danced, seam.next)} the harmony jumps more than anywhere else in the song.`,
        },
      ];
    });
  },
};
