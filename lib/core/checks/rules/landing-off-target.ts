import { storedAt } from '../../dance/place.ts';
import type { Rule } from '../finding.ts';
import { placeOfCount, seconds } from '../words.ts';

/** A pose this far from its sound looks late or early: pictures are accepted from 90 ms early to 185 ms late. */
const SEEN = 0.185;

export const rule: Rule = {
  id: 'landing-off-target',
  about: 'ending',
  severity: 'warns',
  reads: ['plan'],
  what: 'The closing pose lands before or after the word or sound that it should land on.',
  why: 'Everybody sees whether the picture and the music end together.',
  todo: 'Land on the nearest count, or hold until the word comes.',
  source: 'ITU-R BT.1359-1: sound and picture are accepted together within +90/-185 ms',
  fixes: ['ending'],
  run({ board, danced }) {
    if (!danced?.ending.ok) return [];
    const { landing } = danced.ending.value;
    if (Math.abs(landing.secondsOff) <= SEEN) return [];
    const { score } = danced;
    const ending = board.plan.ending!;
    const cue = board.plan.cues.find(({ id }) => id === ending.target.cue);
    return [
      {
        place: placeOfCount(score, landing.count),
        figures: { secondsOff: landing.secondsOff, countsOff: landing.secondsOff / score.interval },
        sentence: `The closing pose lands ${seconds(landing.secondsOff)} ${landing.secondsOff < 0 ? 'before' : 'after'} ${cue ? `“${cue.word}”` : 'its moment'}.`,
        fixes: () => [
          {
            words: 'Land on the count itself',
            changes: [
              {
                register: 'ending' as const,
                value: {
                  ...ending,
                  target: { kind: 'time' as const, at: storedAt(score, landing.count), cue: null },
                },
              },
            ],
          },
        ],
      },
    ];
  },
};
