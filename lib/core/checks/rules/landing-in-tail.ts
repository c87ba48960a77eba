import type { Rule } from '../finding.ts';
import { landingFixes, lastPlayed } from '../landings.ts';
import { placeOfCount, seconds } from '../words.ts';

export const rule: Rule = {
  id: 'landing-in-tail',
  about: 'ending',
  severity: 'warns',
  reads: ['plan'],
  what: 'The closing pose lands while the last chord dies away.',
  why: 'The picture belongs to the last chord; a bar later it comes out of nothing.',
  todo: 'Land on the last strong count, or on the word itself.',
  source: 'common practice, no source',
  fixes: ['ending'],
  run({ board, danced }) {
    if (!danced?.ending.ok || !danced.heard || board.plan.ending!.target.kind === 'cue word') return [];
    const { landing } = danced.ending.value;
    const { score } = danced;
    const last = lastPlayed(board.plan, danced);
    if (!last || landing.floor > score.musicLength || landing.count < last.index + score.countsPerBar)
      return [];
    const late = landing.floor - last.floor;
    return [
      {
        place: placeOfCount(score, landing.count),
        figures: { late },
        sentence: `The closing pose lands ${seconds(late)} after the last strong count, while the last chord dies away.`,
        fixes: () => landingFixes(board.plan, danced),
      },
    ];
  },
};
