import type { Rule } from '../finding.ts';
import { firstStepFixes } from '../firstSteps.ts';
import { leadTime } from '../leadTime.ts';
import { placeOfCount, seconds, whereabouts } from '../words.ts';

export const rule: Rule = {
  id: 'walk-too-long',
  about: 'walk-on',
  severity: 'warns',
  reads: ['plan'],
  what: 'Walking on and taking hold takes longer than the music before the first step.',
  why: 'The couple run, or miss their first step.',
  todo: 'Start on a later phrase, walk a shorter way, or wait nearer to the floor.',
  source: 'comfortable gait 127 to 146 cm/s (Bohannon 1997)',
  fixes: ['walkOn'],
  run({ board, danced }) {
    if (!danced?.walk || !board.plan.walkOn) return [];
    const { score, walk } = danced;
    const { missing, before } = leadTime(board, walk);
    // Where the run of show gives time before the music, it is that which is too short.
    if (missing === 0 || before !== null) return [];
    const where = whereabouts(board.plan, danced, walk.firstStep);
    return [
      {
        place: placeOfCount(score, walk.firstStep),
        figures: { needed: walk.seconds, has: walk.firstStepAt, missing },
        sentence: `Walking on and taking hold takes ${seconds(walk.seconds)}; the first step, ${where}, comes ${seconds(missing)} too early for that.`,
        fixes: () => firstStepFixes(board.plan, danced),
      },
    ];
  },
};
