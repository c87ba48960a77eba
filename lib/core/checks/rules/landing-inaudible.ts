import type { Rule } from '../finding.ts';
import { landingFixes, WELL_HEARD } from '../landings.ts';
import { placeOfCount } from '../words.ts';

export const rule: Rule = {
  id: 'landing-inaudible',
  about: 'edit',
  severity: 'warns',
  reads: ['plan'],
  what: 'When the closing pose lands, the fade has already taken most of the music away.',
  why: 'The pose should be in the music, and the music gone soon after it.',
  todo: 'Land earlier, or fade later.',
  source: 'common practice, no source; by hand the fade may come 2 s early',
  fixes: ['ending'],
  run({ board, danced }) {
    if (!danced?.ending.ok) return [];
    const { audibleDb, landing } = danced.ending.value;
    if (audibleDb === null || audibleDb >= WELL_HEARD) return [];
    if (landing.floor > danced.score.musicLength + 0.05) return [];
    return [
      {
        place: placeOfCount(danced.score, landing.count),
        figures: { dB: audibleDb, least: WELL_HEARD },
        sentence: `The music is ${Math.round(-audibleDb)} dB down when the closing pose lands: hardly heard.`,
        fixes: () => landingFixes(board.plan, danced),
      },
    ];
  },
};
