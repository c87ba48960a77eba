import type { Rule } from '../finding.ts';
import { firstStepFixes } from '../firstSteps.ts';
import { placeOfCount, whereabouts } from '../words.ts';

export const rule: Rule = {
  id: 'first-step-off-phrase',
  about: 'walk-on',
  severity: 'warns',
  reads: ['plan'],
  what: 'The first step does not fall on the beginning of a phrase.',
  why: 'From there on the couple count against the music.',
  todo: 'Start where a line begins, best, where somebody sings, with the first sung one; in a verse of one phrase also on a bar at its half.',
  source: 'common practice, no source',
  fixes: ['walkOn'],
  run({ board, danced }) {
    if (!danced?.walk || board.plan.walkOn?.firstStep == null) return [];
    const { score, walk } = danced;
    const first = score.counts[walk.firstStep]!;
    if (first.inPhrase === 0 && first.phrase >= 0) return [];
    // Where the walk itself asks for another place, as the middle of a verse, there is no better one.
    if (walk.proposed === walk.firstStep) return [];
    return [
      {
        place: placeOfCount(score, walk.firstStep),
        figures: { inPhrase: first.inPhrase + 1 },
        sentence: `The first step, ${whereabouts(board.plan, danced, walk.firstStep)}, is not where a line begins.`,
        fixes: () => firstStepFixes(board.plan, danced),
      },
    ];
  },
};
