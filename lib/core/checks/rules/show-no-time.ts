import type { Rule } from '../finding.ts';
import { HANDING_OVER } from '../time.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'show-no-time',
  about: 'handover',
  severity: 'warns',
  reads: ['plan', 'show'],
  from: HANDING_OVER,
  what: 'The run of show has no time for the dance.',
  why: 'Nobody can be in place for a moment that is not on paper.',
  todo: 'Agree the time with whoever runs the evening.',
  source: 'common practice, no source',
  fixes: [],
  run({ board }) {
    if (board.show!.time) return [];
    const who =
      board.plan.eveningBy === 'planner' || !board.plan.eveningBy
        ? 'the planner'
        : 'whoever runs the evening';
    const sentence =
      board.plan.eveningBy === 'nobody'
        ? 'The evening has no time for the dance yet.'
        : `The run of show has no time for the dance yet: ask ${who}.`;
    return [{ place: nowhere, figures: {}, sentence }];
  },
};
