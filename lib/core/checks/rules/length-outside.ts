import { clock } from '../../units.ts';
import { fadeFixes } from '../fades.ts';
import type { Rule } from '../finding.ts';
import { nowhere, seconds } from '../words.ts';

export const rule: Rule = {
  id: 'length-outside',
  about: 'length',
  severity: 'warns',
  reads: ['plan'],
  what: 'The music as played is longer or shorter than the couple want.',
  why: 'Most first dances are good at about three minutes; past 4:20 guests look away.',
  todo: 'Choose another edit, or another length.',
  source: 'common practice, no source',
  fixes: ['edit'],
  run({ board, danced }) {
    const { target } = board.plan;
    if (!danced || !target) return [];
    const length = danced.score.musicLength;
    const over = length - target.length;
    if (Math.abs(over) <= target.within) return [];
    const sentence = `The music lasts ${clock(length)}, ${seconds(over)} ${over > 0 ? 'longer' : 'shorter'} than the ${clock(target.length)} that you want.`;
    return [
      {
        place: nowhere,
        figures: { length, target: target.length, within: target.within },
        sentence,
        fixes: () => fadeFixes(board.plan, danced, target.length, target.within),
      },
    ];
  },
};
