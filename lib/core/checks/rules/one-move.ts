import { clock } from '../../units.ts';
import type { Rule } from '../finding.ts';
import { markFixes, unmarked } from '../marking.ts';
import { nowhere, whereabouts } from '../words.ts';

/** Longer than this, one move besides the ending is little, seconds; common practice, no source. */
const LONG = 150;

export const rule: Rule = {
  id: 'one-move',
  about: 'moves',
  severity: 'hints',
  reads: ['plan'],
  what: 'In a whole dance there is one move besides the ending, or none.',
  why: 'Two minutes of basic after it look as if the couple had forgotten the rest.',
  todo: 'Dance the same move again where the music changes: there is nothing more to learn.',
  source: 'common practice, no source',
  fixes: ['placed', 'moves'],
  run({ board, danced }) {
    // Without moves to choose from, that is what is lacking.
    if (!danced || board.plan.moves.length === 0) return [];
    const { score, placements } = danced;
    if (placements > 1 || score.musicLength <= LONG) return [];
    const length = clock(score.musicLength);
    return [
      {
        place: nowhere,
        figures: { length: score.musicLength },
        sentence:
          placements === 0
            ? `In ${length} of music there is no move yet: put one where the music changes.`
            : `One move in ${length} is little: dance it again where the music changes.`,
        *fixes() {
          for (const section of unmarked(danced)) {
            const where = whereabouts(board.plan, danced, section.first);
            const { value } = markFixes(board.plan, danced, section, where).next();
            if (value) yield value;
          }
        },
      },
    ];
  },
};
