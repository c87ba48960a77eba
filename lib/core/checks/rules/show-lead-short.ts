import { walkSeconds } from '../../dance/walkOn.ts';
import type { Rule } from '../finding.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'show-lead-short',
  about: 'handover',
  severity: 'warns',
  reads: ['plan', 'show'],
  what: 'The run of show leaves less time before the music than the couple need to come on.',
  why: 'When the walk begins before the music, nobody has announced it yet.',
  todo: 'Give the entry more time before the music.',
  source: 'common practice, no source',
  fixes: [],
  run({ board, danced }) {
    const { walkOn } = board.plan;
    if (!danced?.walk || !walkOn || board.show!.lead === null) return [];
    // What of the walk does not fit into the music before the first step has to happen before the music.
    const { missing } = danced.walk;
    const lead = board.show!.lead;
    if (missing <= lead + 0.05) return [];
    return [
      {
        place: nowhere,
        figures: { needed: walkSeconds(walkOn), lead },
        sentence: `Before the music there are ${lead} s, and you need ${Math.ceil(missing)} s more than the intro gives.`,
      },
    ];
  },
};
