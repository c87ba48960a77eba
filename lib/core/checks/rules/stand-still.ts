import { clock } from '../../units.ts';
import type { Rule } from '../finding.ts';
import { firstStepFixes } from '../firstSteps.ts';
import { nowhere, seconds } from '../words.ts';

/** Longer than this, waiting for the first step feels endless, seconds; twice and a half as long, to the guests too. Common practice, no source. */
const LONG = 12;
const ENDLESS = 30;

export const rule: Rule = {
  id: 'stand-still',
  about: 'walk-on',
  severity: 'warns',
  reads: ['plan'],
  what: 'Between walking on and the first step there is a long wait.',
  why: 'Standing in front of everybody, without anything to do, makes people nervous.',
  todo: 'Wait off the floor and set off later, or start sooner.',
  source: 'common practice, no source',
  fixes: ['walkOn'],
  run({ board, danced }) {
    const { walkOn } = board.plan;
    if (!danced?.walk || !walkOn || danced.walk.standStill <= LONG) return [];
    const { walk } = danced;
    // Where the walk itself proposes this step, they wait off the floor: it says when to set off.
    if (walkOn.how !== 'in place' && walk.firstStep === walk.proposed) return [];
    const sentence =
      walkOn.how === 'in place'
        ? `You stand in place for ${seconds(walk.standStill)} before the first step.`
        : `There are ${seconds(walk.standStill)} to spare: wait off the floor and set off at ${clock(walk.comeOnAt)}.`;
    const earlier = firstStepFixes(board.plan, danced);
    return [
      {
        severity: walk.standStill > ENDLESS ? ('warns' as const) : ('hints' as const),
        place: nowhere,
        figures: { standStill: walk.standStill },
        sentence,
        fixes: () => earlier,
      },
    ];
  },
};
