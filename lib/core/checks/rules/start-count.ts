import { dancedBar, mayStartOn } from '../../dance/counts.ts';
import type { Rule } from '../finding.ts';
import { shiftFixes } from '../spots.ts';
import { nameOf, placeOfCount } from '../words.ts';

export const rule: Rule = {
  id: 'start-count',
  about: 'moves',
  severity: 'warns',
  reads: ['plan'],
  local: 'itself',
  what: 'A move does not start on the count of the bar that it is danced on.',
  why: 'The feet are elsewhere then: the basic before it has not come to its end.',
  todo: 'Shift it by a count or two.',
  source: 'the move itself; a figure of six counts meets the bar of four again after twelve (arithmetic)',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced) return [];
    const { score, grid } = danced;
    return danced.laid
      .filter((laid) => !laid.removedByEdit && !mayStartOn(laid.move, score.counts[laid.at]!.inBar, grid))
      .map((laid) => {
        const is = (score.counts[laid.at]!.inBar % dancedBar(grid)) + 1;
        return {
          about: laid.id,
          place: placeOfCount(score, laid.at),
          figures: { startsOn: laid.move.startsOn, placedOn: is },
          sentence: `${nameOf(laid)} starts on count ${laid.move.startsOn}, and is placed on ${is}.`,
          fixes: () => shiftFixes(board.plan, danced, laid),
        };
      });
  },
};
