import { clock } from '../../units.ts';
import { fadeFixes } from '../fades.ts';
import type { Rule } from '../finding.ts';
import { nowhere } from '../words.ts';

/** Past 4:20 a first dance is long; about three minutes and a little are usual. Seconds; common practice, no source. */
const LONG = 260;
const USUAL = 185;
const WITHIN = 25;

export const rule: Rule = {
  id: 'length-open',
  about: 'length',
  severity: 'warns',
  reads: ['plan'],
  what: 'The song is long, and nobody has said how long the dance should be.',
  why: 'Past four minutes the guests look away, and the couple have nothing left to show.',
  todo: 'Choose a length on the song’s page, and an edit that comes near it.',
  source: 'common practice, no source',
  fixes: ['edit'],
  run({ board, danced }) {
    if (!danced || board.plan.target) return [];
    const length = danced.score.musicLength;
    if (length <= LONG) return [];
    return [
      {
        place: nowhere,
        figures: { length, long: LONG },
        sentence: `The music lasts ${clock(length)}, and no length is chosen: about three minutes are enough for a first dance.`,
        fixes: () => fadeFixes(board.plan, danced, USUAL, WITHIN),
      },
    ];
  },
};
