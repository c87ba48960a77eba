import type { Rule } from '../finding.ts';
import { swapFixes } from '../spots.ts';
import { nameOf, placeOfCount } from '../words.ts';

export const rule: Rule = {
  id: 'lift-without-spotter',
  about: 'moves',
  severity: 'warns',
  reads: ['plan'],
  what: 'There is a lift in the dance, and nobody is named who stands by while it is practised.',
  why: 'Lifts load the back beyond what guidance for work allows, and whoever is lifted may fall.',
  todo: 'Learn it with a qualified instructor and somebody who stands by and catches, name them on the page of the party; or dance another move.',
  source: 'J Dance Med Sci 2009 on lifts (published); standing by: common practice, no source',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced || board.plan.spotter?.trim()) return [];
    return danced.used
      .filter(({ move }) => move.cautions.includes('lift'))
      .map((laid) => ({
        about: laid.move.id,
        place: placeOfCount(danced.score, laid.at),
        figures: { move: laid.move.name },
        sentence: `${nameOf(laid)} is a lift: somebody has to stand by and catch while you practise it, and nobody is named.`,
        fixes: () =>
          laid.part === 'placed'
            ? swapFixes(board.plan, danced, laid, (move) => !move.cautions.includes('lift'))
            : [],
      }));
  },
};
