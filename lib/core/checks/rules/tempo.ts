import { countFactor, suitsMetre } from '../../dance/counts.ts';
import type { Move } from '../../dance/move.ts';
import type { Danced, Rule } from '../finding.ts';
import { swapFixes } from '../spots.ts';
import { nameOf, placeOfCount } from '../words.ts';

/** Slower than this, balance takes strength: seconds a count; common practice, no source. */
const SLOWEST = 1.6;

const secondsACount = (move: Move, { score, grid }: Danced): number =>
  score.interval * countFactor(move, grid);

export const rule: Rule = {
  id: 'tempo',
  about: 'moves',
  severity: 'warns',
  reads: ['plan'],
  local: true,
  what: 'A move is too fast or too slow at the speed of this music.',
  why: 'A turn that is rushed is not safe; one that crawls falls over.',
  todo: 'Dance another move, or count at another level.',
  source: 'the move itself, from memory',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced) return [];
    const tooFast = (move: Move) => secondsACount(move, danced) < move.leastSeconds - 1e-6;
    const tooSlow = (move: Move) => secondsACount(move, danced) > SLOWEST;
    return danced.whole
      .filter(({ move }) => tooFast(move) || tooSlow(move))
      .map((laid) => {
        const each = secondsACount(laid.move, danced);
        return {
          about: laid.id,
          place: placeOfCount(danced.score, laid.at),
          figures: { secondsACount: each, least: laid.move.leastSeconds, most: SLOWEST },
          sentence: tooFast(laid.move)
            ? `${nameOf(laid)} wants at least ${laid.move.leastSeconds} s a count; this music gives ${each.toFixed(2)} s.`
            : `${nameOf(laid)} is very slow here: ${each.toFixed(1)} s a count.`,
          fixes: () =>
            laid.part === 'placed'
              ? swapFixes(
                  board.plan,
                  danced,
                  laid,
                  (move) => suitsMetre(move, danced.grid) && !tooFast(move) && !tooSlow(move),
                )
              : [],
        };
      });
  },
};
