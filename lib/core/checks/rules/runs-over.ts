import { sectionWords } from '../../edit/sectionNames.ts';
import type { Rule } from '../finding.ts';
import { shiftFixes, swapFixes } from '../spots.ts';
import { inWords, many, nameOf, placeOfCount } from '../words.ts';

export const rule: Rule = {
  id: 'runs-over',
  about: 'moves',
  severity: 'warns',
  reads: ['plan'],
  local: 'itself',
  what: 'A move runs over the end of its phrase or section, or over a join where the counts do not go on.',
  why: 'The music begins something new while the couple are still in the middle of the old.',
  todo: 'Start it earlier, or dance a shorter one.',
  source: 'common practice, no source',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced) return [];
    const { score } = danced;
    return danced.laid.flatMap((laid) => {
      if (laid.removedByEdit) return [];
      const phrase = score.phrases[score.counts[laid.at]!.phrase];
      const seam = score.seams.find((s) => !s.clean && s.next > laid.at && s.next < laid.end);
      const end = seam ? seam.next : phrase ? phrase.first + phrase.counts : laid.end;
      if (laid.end <= end) return [];
      const next = phrase && score.phrases[phrase.index + 1];
      const change =
        next && next.section !== phrase.section ? sectionWords(score.sections[next.section]!) : null;
      const before = seam ? 'the join' : (change ?? (next ? 'the next phrase' : 'the song ends'));
      return [
        {
          about: laid.id,
          place: placeOfCount(score, laid.at),
          figures: { counts: laid.counts, left: end - laid.at },
          sentence: `${nameOf(laid)} takes ${many(laid.counts, 'count')}; ${inWords(end - laid.at)} ${end - laid.at === 1 ? 'is' : 'are'} left before ${before}.`,
          *fixes() {
            yield* shiftFixes(board.plan, danced, laid);
            yield* swapFixes(board.plan, danced, laid, (move) => move.counts <= end - laid.at);
          },
        },
      ];
    });
  },
};
