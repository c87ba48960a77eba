import type { Rule } from '../finding.ts';
import { shiftFixes } from '../spots.ts';
import { nameOf, placeOfCount } from '../words.ts';

export const rule: Rule = {
  id: 'move-before-first-step',
  about: 'walk-on',
  severity: 'blocks',
  reads: ['plan'],
  local: 'itself',
  what: 'A move is placed before the first step.',
  why: 'The couple are still walking on.',
  todo: 'Put it later, or start dancing earlier.',
  source: 'design',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced?.walk || board.plan.walkOn?.firstStep == null) return [];
    const { score, walk } = danced;
    return danced.laid
      .filter((laid) => !laid.removedByEdit && laid.at < walk.firstStep)
      .map((laid) => ({
        about: laid.id,
        place: placeOfCount(score, laid.at),
        figures: { countsBefore: walk.firstStep - laid.at },
        sentence: `${nameOf(laid)} is placed while you are still walking on.`,
        fixes: () => shiftFixes(board.plan, danced, laid),
      }));
  },
};
