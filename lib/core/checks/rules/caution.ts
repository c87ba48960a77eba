import { cautionWords } from '../../dance/cautions.ts';
import type { Rule } from '../finding.ts';
import { nameOf, placeOfCount } from '../words.ts';

export const rule: Rule = {
  id: 'caution',
  about: 'moves',
  severity: 'hints',
  reads: ['plan'],
  what: 'A move of the dance can hurt somebody when it goes wrong.',
  why: 'Dips, lifts and fast turns load backs, knees and shoulders; dress and floor add to it.',
  todo: 'Learn it with a qualified instructor; with any trouble of back, knee or shoulder, or when pregnant, ask a health professional or leave it out.',
  source: 'J Dance Med Sci 2009 on lifts (published); the rest common practice, no source',
  fixes: [],
  run({ danced }) {
    if (!danced) return [];
    return danced.used
      .filter(({ move }) => move.cautions.length > 0)
      .map((laid) => ({
        about: laid.move.id,
        place: placeOfCount(danced.score, laid.at),
        figures: { cautions: laid.move.cautions.join(', ') },
        sentence: `${nameOf(laid)}: ${laid.move.cautions.map((c) => cautionWords[c]).join(' ')}`,
      }));
  },
};
