import { suitsMetre } from '../../dance/counts.ts';
import { storedAt } from '../../dance/place.ts';
import type { Rule } from '../finding.ts';
import { lastStrong } from '../landings.ts';
import { nowhere, placeOfCount } from '../words.ts';

export const rule: Rule = {
  id: 'no-ending',
  about: 'ending',
  severity: 'warns',
  reads: ['plan'],
  what: 'There is no closing pose yet.',
  why: 'Without one the dance ends in a shrug, and nobody knows when to clap.',
  todo: 'Choose a pose, and the word or count that it lands on.',
  source: 'common practice, no source',
  fixes: ['ending'],
  run({ board, danced }) {
    if (!danced) return [];
    const { plan } = board;
    if (plan.ending && !(!danced.ending.ok && danced.ending.problem.code === 'no-moves')) return [];
    const pose = plan.moves
      .filter((move) => move.landsOn !== null && suitsMetre(move, danced.grid))
      .sort((a, b) => a.cautions.length - b.cautions.length || (a.id < b.id ? -1 : 1))[0];
    const strong = lastStrong(plan, danced);
    const at = strong ?? danced.score.counts.at(-1)!;
    const sentence = plan.ending
      ? 'The ending has no closing pose: choose one of your moves for it.'
      : 'There is no closing pose yet: choose one, and the word or count that it lands on.';
    const fixes =
      !pose || !strong
        ? []
        : [
            {
              words: `Land “${pose.name}” on the last strong count`,
              changes: [
                {
                  register: 'ending' as const,
                  value: {
                    hold: 4,
                    signal: null,
                    facing: '',
                    safer: pose.saferForm !== '',
                    ...plan.ending,
                    target: {
                      kind: 'last strong count' as const,
                      at: storedAt(danced.score, strong.index),
                      cue: null,
                    },
                    moves: [pose.id],
                  },
                },
              ],
            },
          ];
    return [
      {
        place: at ? placeOfCount(danced.score, at.index) : nowhere,
        figures: {},
        sentence,
        fixes: () => fixes,
      },
    ];
  },
};
