import { entryFacts } from '../../agreed/entry.ts';
import type { Rule } from '../finding.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'show-outdated',
  about: 'handover',
  severity: 'warns',
  reads: ['plan', 'answer', 'show'],
  what: 'The entry was marked final, and what it says has changed since.',
  why: 'The printed run of show is not what happens.',
  todo: 'Look at what differs, and mark it final again.',
  source: 'common practice, no source',
  fixes: [],
  run({ board, danced }) {
    if (!board.show!.final) return [];
    const { final } = entryFacts(board, danced?.score ?? null);
    if (!final?.outdated) return [];
    return [
      {
        place: nowhere,
        figures: { changes: final.differs.length },
        sentence: `The run-of-show entry was final, and has changed since: ${final.differs.slice(0, 3).join('; ')}.`,
      },
    ];
  },
};
