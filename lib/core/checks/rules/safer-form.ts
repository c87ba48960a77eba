import type { Rule } from '../finding.ts';
import { nameOf, placeOfCount } from '../words.ts';

export const rule: Rule = {
  id: 'safer-form',
  about: 'ending',
  severity: 'hints',
  reads: ['plan'],
  what: 'The closing pose has a safer form, and it is not chosen.',
  why: 'On the night there are nerves, another floor and other shoes; a lean looks as good in a picture.',
  todo: 'Dance the safer form, or learn the pose with a qualified instructor.',
  source: 'common practice, no source; see the cautions',
  fixes: ['ending'],
  run({ board, danced }) {
    if (!danced?.ending.ok || board.plan.ending!.safer) return [];
    const pose = danced.ending.value.moves.at(-1)!;
    if (pose.move.saferForm === '') return [];
    return [
      {
        place: placeOfCount(danced.score, pose.at),
        figures: { pose: pose.move.name },
        sentence: `${nameOf(pose)} has a safer form. ${pose.move.saferForm}`,
        fixes: () => [
          {
            words: 'Dance the safer form',
            changes: [{ register: 'ending' as const, value: { ...board.plan.ending!, safer: true } }],
          },
        ],
      },
    ];
  },
};
