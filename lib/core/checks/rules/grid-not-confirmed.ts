import type { Rule } from '../finding.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'grid-not-confirmed',
  about: 'song',
  severity: 'warns',
  reads: ['plan'],
  what: 'Beats and bars are only what the program heard; nobody has said that they are right.',
  why: 'A program that hears music can be wrong by a beat or by half the speed, and then every count is.',
  todo: 'Play the song with its counts clicked, correct what is off, and confirm.',
  source: 'common practice, no source',
  fixes: [],
  run({ board, danced }) {
    if (!danced || danced.grid.confirmedBy !== null) return [];
    const sure = board.plan.heard?.confidence.beats;
    return [
      {
        place: nowhere,
        figures: { confidence: sure ?? 'unknown' },
        sentence:
          'Nobody has confirmed the counts yet: listen with the clicks on and say that they are right.',
      },
    ];
  },
};
