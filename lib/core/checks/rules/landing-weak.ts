import { storedAt } from '../../dance/place.ts';
import type { Rule } from '../finding.ts';
import { placeOfCount } from '../words.ts';

export const rule: Rule = {
  id: 'landing-weak',
  about: 'ending',
  severity: 'hints',
  reads: ['plan'],
  what: 'The closing pose lands on a count that does not open a bar.',
  why: 'On the one the body wants to arrive; elsewhere it has to be told.',
  todo: 'Land on the one, unless the word asks for it.',
  source: 'common practice, no source',
  fixes: ['ending'],
  run({ board, danced }) {
    if (!danced?.ending.ok || board.plan.ending!.target.kind === 'cue word') return [];
    const { landing } = danced.ending.value;
    const { score } = danced;
    const { inBar } = score.counts[landing.count]!;
    if (inBar === 0) return [];
    const ones = [landing.count - inBar, landing.count - inBar + score.countsPerBar];
    return [
      {
        place: placeOfCount(score, landing.count),
        figures: { inBar: inBar + 1 },
        sentence: `The closing pose lands on count ${inBar + 1} of its bar; the one is stronger.`,
        fixes: () =>
          ones
            .filter((at) => score.counts[at]?.inBar === 0)
            .map((at) => ({
              words: at < landing.count ? 'Land on the one before' : 'Land on the one after',
              changes: [
                {
                  register: 'ending' as const,
                  value: {
                    ...board.plan.ending!,
                    target: { kind: 'time' as const, at: storedAt(score, at), cue: null },
                  },
                },
              ],
            })),
      },
    ];
  },
};
