import { floorOf } from '../../dance/clock.ts';
import { nearestCount } from '../../edit/nearestCount.ts';
import type { Rule } from '../finding.ts';
import { firstStepFixes } from '../firstSteps.ts';
import { placeOfRecord } from '../words.ts';

export const rule: Rule = {
  id: 'first-step-removed',
  about: 'walk-on',
  severity: 'blocks',
  reads: ['plan'],
  what: 'The edit leaves out the moment that was chosen for the first step.',
  why: 'The couple would stand and wait for it, or each begin on a count of their own.',
  todo: 'Choose another first step in the music that is played.',
  source: 'design',
  fixes: ['walkOn'],
  run({ board, danced }) {
    const { plan } = board;
    const at = plan.walkOn?.firstStep ?? null;
    if (!danced || at === null) return [];
    if (floorOf(plan, at) !== null || nearestCount(danced.score, at) !== null) return [];
    return [
      {
        place: placeOfRecord(plan, danced.score, at),
        figures: { recordTime: at },
        sentence: 'The edit leaves out the moment that was chosen for the first step.',
        fixes: () => firstStepFixes(plan, danced),
      },
    ];
  },
};
