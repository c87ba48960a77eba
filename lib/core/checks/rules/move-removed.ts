import type { Rule } from '../finding.ts';
import { shiftFixes } from '../spots.ts';
import { nameOf, placeOfRecord } from '../words.ts';

export const rule: Rule = {
  id: 'move-removed',
  about: 'edit',
  severity: 'blocks',
  reads: ['plan'],
  local: 'itself',
  what: 'The edit leaves out the music that a move was placed on.',
  why: 'It stands in the plan, but nobody will ever dance it.',
  todo: 'Put it where the music is played.',
  source: 'design',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced) return [];
    const { plan } = board;
    return danced.laid
      .filter((laid) => laid.removedByEdit)
      .map((laid) => {
        const at = plan.placed.find(({ id }) => id === laid.id)!.at;
        return {
          about: laid.id,
          place: { ...placeOfRecord(plan, danced.score, at), recordTime: at },
          figures: { recordTime: at },
          sentence: `${nameOf(laid)} was placed on music that the edit now leaves out.`,
          fixes: () => shiftFixes(plan, danced, laid),
        };
      });
  },
};
