import { openOf, openWords } from '../../song/confirmed.ts';
import type { Rule } from '../finding.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'grid-not-confirmed',
  about: 'song',
  severity: 'warns',
  reads: ['plan'],
  what: 'Metre, beats or bars are only what the program heard; nobody has said that they are right.',
  why: 'A program that hears music can be wrong by a beat or by half the speed, and then every count is.',
  todo: 'Play the song with its counts clicked, correct what is off, and confirm.',
  source: 'common practice, no source',
  fixes: [],
  run({ board, danced }) {
    const open = openOf(board.plan).filter(({ about }) => about !== 'sections');
    if (!danced || open.length === 0) return [];
    const sure = open.flatMap(({ confidence }) => confidence ?? []);
    const theyAre = open.length === 1 && open[0]!.about === 'metre' ? 'it is' : 'they are';
    return [
      {
        place: nowhere,
        figures: { open: openWords(open), confidence: sure.length > 0 ? Math.min(...sure) : 'unknown' },
        sentence: `Nobody has confirmed the ${openWords(open)} yet: listen with the counts clicked, and say that ${theyAre} right.`,
      },
    ];
  },
};
