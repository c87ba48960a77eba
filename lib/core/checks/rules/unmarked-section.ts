import { sectionWords } from '../../edit/sectionNames.ts';
import type { Rule } from '../finding.ts';
import { markFixes, unmarked } from '../marking.ts';
import { capital, placeOfCount, whereabouts } from '../words.ts';

export const rule: Rule = {
  id: 'unmarked-section',
  about: 'moves',
  severity: 'hints',
  reads: ['plan'],
  local: 'beside',
  what: 'A new section begins, and no move marks it.',
  why: 'A move where the music changes is easy to remember, and looks as if it had been made for the song.',
  todo: 'Put one of the couple’s moves there, with a link where it needs one.',
  source: 'common practice, no source',
  fixes: ['placed', 'moves'],
  run({ board, danced }) {
    if (!danced) return [];
    const { score } = danced;
    return unmarked(danced).map((s) => ({
      about: s.id,
      place: placeOfCount(score, s.first),
      figures: { section: s.name },
      get sentence() {
        const where = whereabouts(board.plan, danced, s.first);
        const cued = where.startsWith('on ') ? ` ${where}` : '';
        return `${capital(sectionWords(s))} begins${cued}, and nothing marks it.`;
      },
      fixes: () => markFixes(board.plan, danced, s),
    }));
  },
};
