import { SIGNAL_MOST } from '../../dance/ending.ts';
import type { Rule } from '../finding.ts';
import { nameOf, placeOfCount, whereabouts } from '../words.ts';

export const rule: Rule = {
  id: 'signal-missing',
  about: 'ending',
  severity: 'warns',
  reads: ['plan'],
  what: 'No word or sound tells the couple that the ending begins.',
  why: 'Counting three minutes through is nobody’s idea of a dance.',
  todo: 'Mark a word that is heard shortly before the ending is led.',
  source: 'common practice, no source',
  fixes: ['ending'],
  run({ board, danced }) {
    if (!danced?.ending.ok || danced.ending.value.signal) return [];
    const { led, moves } = danced.ending.value;
    const chosen = board.plan.ending!.signal !== null;
    return [
      {
        // Nobody chose one: there is an ending, and a word for it can still be marked.
        severity: chosen ? ('warns' as const) : ('hints' as const),
        place: placeOfCount(danced.score, led.count),
        figures: { within: SIGNAL_MOST },
        sentence: `${nameOf(moves[0]!)} is led ${whereabouts(board.plan, danced, led.count)}, and no word shortly before tells you: mark one.`,
        fixes: () =>
          chosen
            ? [
                {
                  words: 'Let the last word before the ending be the signal',
                  changes: [{ register: 'ending' as const, value: { ...board.plan.ending!, signal: null } }],
                },
              ]
            : [],
      },
    ];
  },
};
