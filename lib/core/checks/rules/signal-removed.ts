import { floorOf } from '../../dance/clock.ts';
import type { Rule } from '../finding.ts';
import { placeOfRecord, quoted } from '../words.ts';

export const rule: Rule = {
  id: 'signal-removed',
  about: 'edit',
  severity: 'warns',
  reads: ['plan'],
  what: 'The edit leaves out the word that tells the couple that the ending begins.',
  why: 'They would wait for it, and miss the ending.',
  todo: 'Choose another word that is played.',
  source: 'design',
  fixes: ['ending'],
  run({ board, danced }) {
    const { plan } = board;
    const cue = plan.cues.find(({ id }) => id === plan.ending?.signal);
    if (!danced || !cue || floorOf(plan, cue.at) !== null) return [];
    return [
      {
        place: placeOfRecord(plan, danced.score, cue.at),
        figures: { word: cue.word },
        sentence: `${quoted(cue.word)} is the signal for the ending, and the edit leaves it out.`,
        fixes: () => [
          {
            words: 'Let the last word before the ending be the signal',
            changes: [{ register: 'ending' as const, value: { ...plan.ending!, signal: null } }],
          },
        ],
      },
    ];
  },
};
