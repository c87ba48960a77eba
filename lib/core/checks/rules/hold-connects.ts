import { basicOf } from '../../dance/basics.ts';
import type { Rule } from '../finding.ts';
import { swapFixes } from '../spots.ts';
import { standWords } from '../through.ts';
import { nameOf, placeOfCount, quoted } from '../words.ts';

export const rule: Rule = {
  id: 'hold-connects',
  about: 'moves',
  severity: 'hints',
  reads: ['plan'],
  local: 'beside',
  what: 'The hold, or how they stand to each other, changes while the basic goes on.',
  why: 'The couple have to find each other’s hands while the music goes on.',
  todo: 'Change the hold during the basic, put a link there that changes it, or dance another move.',
  source: 'the moves themselves; that a bar of basic is time enough is common practice, no source',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced) return [];
    const { plan } = board;
    return danced.through.changes.map(({ at, side, laid, from, to }) => {
      const [has, needs] = [standWords(from, to), standWords(to, from)];
      return {
        about: side === 'into basic' ? `${laid.id}-after` : laid.id,
        place: placeOfCount(danced.score, at),
        figures: { has, needs },
        sentence:
          side === 'into basic'
            ? `${nameOf(laid)} ends ${has}: take the basic ${needs} again.`
            : `${quoted(basicOf(plan)!.name)} is danced ${has}, and ${nameOf(laid)} begins ${needs}.`,
        fixes: () =>
          laid.part === 'placed'
            ? swapFixes(plan, danced, laid, (move) =>
                side === 'into basic' ? move.holdAfter === to.hold : move.holdBefore === from.hold,
              )
            : [],
      };
    });
  },
};
