import type { Rule } from '../finding.ts';
import { landingFixes } from '../landings.ts';
import { placeOfCount, seconds } from '../words.ts';

/** Silence under a pose that is still a pause and not an accident, seconds; common practice, no source. */
const PAUSE = 3;

export const rule: Rule = {
  id: 'pose-in-silence',
  about: 'ending',
  severity: 'blocks',
  reads: ['plan'],
  what: 'The closing pose is kept long after the last sound, or lands after it.',
  why: 'The dip comes after the music has died.',
  todo: 'Land earlier.',
  source: 'common practice, no source',
  fixes: ['ending'],
  run({ board, danced }) {
    if (!danced?.ending.ok) return [];
    const { kept, landing } = danced.ending.value;
    const { score } = danced;
    const after = landing.floor - score.musicLength;
    if (after <= 0.05 && kept.afterSound <= PAUSE) return [];
    const late = after > 0.05;
    const shorter = Math.floor(kept.seconds - kept.afterSound + PAUSE);
    return [
      {
        severity: late ? ('blocks' as const) : ('hints' as const),
        place: placeOfCount(score, landing.count),
        figures: { afterSound: late ? after : kept.afterSound },
        sentence: late
          ? `The closing pose lands ${seconds(after)} after the last sound.`
          : `The closing pose is kept ${seconds(kept.afterSound)} after the last sound.`,
        fixes: () => [
          ...landingFixes(board.plan, danced),
          ...(late || shorter < 3
            ? []
            : [
                {
                  words: `Keep it for ${shorter} s`,
                  changes: [{ register: 'ending' as const, value: { ...board.plan.ending!, hold: shorter } }],
                },
              ]),
        ],
      },
    ];
  },
};
