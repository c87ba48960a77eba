import type { Rule } from '../finding.ts';
import { landingFixes } from '../landings.ts';
import { placeOfRecord } from '../words.ts';

export const rule: Rule = {
  id: 'ending-too-early',
  about: 'ending',
  severity: 'blocks',
  reads: ['plan'],
  what: 'The ending would begin before the music or before the first step.',
  why: 'There is no time to dance it.',
  todo: 'Land later.',
  source: 'design',
  fixes: ['ending'],
  run({ board, danced }) {
    if (!danced || !board.plan.ending) return [];
    const { ending, walk } = danced;
    const early = ending.ok
      ? walk !== null && ending.value.moves[0]!.at < walk.firstStep
      : ending.problem.code === 'too-early';
    if (!early) return [];
    return [
      {
        place: placeOfRecord(board.plan, danced.score, board.plan.ending.target.at),
        figures: {},
        sentence: 'The ending would have to begin before the dance does: land later.',
        fixes: () => landingFixes(board.plan, danced),
      },
    ];
  },
};
