import { clock } from '../../units.ts';
import type { Rule } from '../finding.ts';
import { landingFixes } from '../landings.ts';
import { placeOfCount, seconds } from '../words.ts';

/** Music after the pose has been kept: longer than this and nobody dares to clap, seconds; common practice, no source. */
const ON = 10;

export const rule: Rule = {
  id: 'music-goes-on',
  about: 'ending',
  severity: 'warns',
  reads: ['plan'],
  what: 'The music goes on long after the closing pose.',
  why: 'The couple stand there, and the guests do not know that it is over.',
  todo: 'Land later, or let the music end sooner.',
  source: 'common practice, no source',
  fixes: ['ending'],
  run({ board, danced }) {
    if (!danced?.ending.ok) return [];
    const { kept, landing } = danced.ending.value;
    const on = danced.score.musicLength - kept.until;
    if (on <= ON) return [];
    return [
      {
        place: placeOfCount(danced.score, landing.count),
        figures: { secondsOn: on },
        sentence: `The closing pose is over at ${clock(kept.until)}, and the music goes on for ${seconds(on)}.`,
        fixes: () => landingFixes(board.plan, danced),
      },
    ];
  },
};
