import type { Rule } from '../finding.ts';
import { firstStepFixes } from '../firstSteps.ts';
import { leadTime } from '../leadTime.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'show-lead-short',
  about: 'handover',
  severity: 'warns',
  reads: ['plan', 'show'],
  what: 'The run of show leaves less time before the music than the couple need to come on.',
  why: 'When the walk begins before the music, nobody has announced it yet.',
  todo: 'Give the entry more time before the music, or start on a later phrase.',
  source: 'common practice, no source',
  fixes: ['walkOn'],
  run({ board, danced }) {
    const { walkOn } = board.plan;
    if (!danced?.walk || !walkOn) return [];
    const { before, needed, missing } = leadTime(board, danced.walk);
    if (before === null || missing === 0) return [];
    return [
      {
        place: nowhere,
        figures: { needed, lead: before },
        sentence: `Before the music there are ${before} s, and you need ${Math.ceil(missing)} s more than these and the intro give.`,
        fixes: () => firstStepFixes(board.plan, danced),
      },
    ];
  },
};
