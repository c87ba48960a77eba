import type { Rule } from '../finding.ts';
import { joinFigures, seamsOf } from '../seams.ts';
import { whereabouts } from '../words.ts';

export const rule: Rule = {
  id: 'seam-timbre',
  about: 'edit',
  severity: 'warns',
  reads: ['plan'],
  what: 'The sound of the band changes more at a join than it does elsewhere in this song.',
  why: 'Drums or voices that appear or vanish from one beat to the next give a join away.',
  todo: 'Listen to the join; where it shows, join at another place.',
  source: 'the song itself: a larger step than 19 of 20 of its neighbouring bars take',
  fixes: [],
  run({ board, danced }) {
    if (!danced?.heard) return [];
    const { heard } = danced;
    return seamsOf(board.plan, danced).flatMap(({ seam, cut, index, place }) => {
      const { figures, usual } = joinFigures(danced, heard, cut);
      if (figures.timbre <= usual.most.timbre) return [];
      return [
        {
          about: String(index),
          place,
          figures: { distance: figures.timbre, usual: usual.most.timbre },
          sentence: `At the join ${whereabouts(board.plan, danced, seam.next)} the sound changes more than is usual in this song.`,
        },
      ];
    });
  },
};
