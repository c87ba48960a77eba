import { entryFacts } from '../../agreed/entry.ts';
import { clock } from '../../units.ts';
import type { Rule } from '../finding.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'show-too-short',
  about: 'handover',
  severity: 'warns',
  reads: ['plan', 'answer', 'show'],
  what: 'The run of show was printed with less time than the dance takes.',
  why: 'The next item begins while the couple still dance.',
  todo: 'Tell the planner the new length.',
  source: 'common practice, no source',
  fixes: [],
  run({ board, danced }) {
    const printed = board.show!.final?.facts['in all'];
    if (!printed) return [];
    const { total } = entryFacts(board, danced?.score ?? null);
    if (total === null) return [];
    const [minutes, secs] = printed.split(':').map(Number);
    const planned = minutes! * 60 + secs!;
    if (!(total > planned + 1)) return [];
    return [
      {
        place: nowhere,
        figures: { planned, needed: total },
        sentence: `The run of show has ${printed} for the dance, which now takes ${clock(total)}.`,
      },
    ];
  },
};
