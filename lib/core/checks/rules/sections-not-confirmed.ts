import { openOf } from '../../song/confirmed.ts';
import type { Rule } from '../finding.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'sections-not-confirmed',
  about: 'song',
  severity: 'hints',
  reads: ['plan'],
  what: 'The song has no sections, or nobody has confirmed where each begins.',
  why: 'Moves go where the music changes; a section in the wrong place puts them beside it.',
  todo: 'Listen to the opening of each section, correct its start and name, and confirm.',
  source: 'common practice, no source',
  fixes: [],
  run({ board, danced }) {
    const open = openOf(board.plan).find(({ about }) => about === 'sections');
    if (!danced || !open) return [];
    const { sections } = board.plan;
    const which = open.words === 'sections' ? 'the sections' : open.words;
    const sentence =
      sections.length === 0
        ? 'The song has no sections yet: say where verse and chorus begin.'
        : `Nobody has confirmed ${which} yet: listen to where each begins.`;
    return [{ place: nowhere, figures: { sections: sections.length }, sentence }];
  },
};
