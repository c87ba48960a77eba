import { playedEdit } from '../../agreed/played.ts';
import type { Rule } from '../finding.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'band-fade',
  about: 'handover',
  severity: 'blocks',
  reads: ['plan'],
  what: 'A band plays, and the music should fade.',
  why: 'A band cannot fade away: it needs an ending.',
  todo: 'Let the song end by itself, or agree an ending with the band.',
  source: 'common practice, no source',
  fixes: ['edit'],
  run({ board }) {
    const edit = playedEdit(board.plan);
    if (board.plan.musicBy !== 'band' || edit.end.kind !== 'fade') return [];
    return [
      {
        place: nowhere,
        figures: {},
        sentence: 'A band plays for you, and a band cannot fade: agree an ending with them.',
        fixes: () => [
          {
            words: 'Let the song play to its own end',
            changes: [{ register: 'edit' as const, value: { ...edit, end: { kind: 'own' as const } } }],
          },
        ],
      },
    ];
  },
};
