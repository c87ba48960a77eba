import type { Rule } from '../finding.ts';
import { placeOfCount, seconds } from '../words.ts';

/** A closing pose is kept 3 to 5 s; below 1.5 s no camera catches it. Common practice, no source. */
const LEAST = 3;
const NONE = 1.5;

export const rule: Rule = {
  id: 'pose-kept-short',
  about: 'ending',
  severity: 'warns',
  reads: ['plan'],
  what: 'The closing pose is not kept long enough.',
  why: 'Guests need a moment to see it, and the camera to catch it.',
  todo: 'Keep it for four breaths.',
  source: 'common practice, no source',
  fixes: ['ending'],
  run({ board, danced }) {
    if (!danced?.ending.ok) return [];
    const { kept, landing } = danced.ending.value;
    if (kept.seconds >= LEAST) return [];
    const caught = kept.seconds < NONE ? '; no camera catches that' : '';
    return [
      {
        place: placeOfCount(danced.score, landing.count),
        figures: { kept: kept.seconds, least: LEAST },
        sentence: `The closing pose is kept for ${seconds(kept.seconds)}${caught}: let it last 3 to 5.`,
        fixes: () => [
          {
            words: 'Keep it for 4 s',
            changes: [{ register: 'ending' as const, value: { ...board.plan.ending!, hold: 4 } }],
          },
        ],
      },
    ];
  },
};
