import { basicStretches } from '../../dance/basics.ts';
import type { Move } from '../../dance/move.ts';
import type { Rule } from '../finding.ts';
import { shiftFixes } from '../spots.ts';
import { capital, many, placeOfCount, whereabouts } from '../words.ts';

export const rule: Rule = {
  id: 'counts-left',
  about: 'moves',
  severity: 'hints',
  reads: ['plan'],
  local: 'beside',
  what: 'Between two moves, or at the end, are counts that no whole basic fills.',
  why: 'Whoever does not know it begins the next move on the wrong foot.',
  todo: 'Hold those counts, sway through them, or shift the next move.',
  source: 'arithmetic: 32 bars of four hold a six-count basic 21 times, two counts are left over',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced) return [];
    const { plan } = board;
    const { sections } = danced.score;
    const changesAt = (at: number) => sections.some(({ first, counts }) => counts > 0 && first === at);
    const byStart = new Map(danced.whole.toReversed().map((laid) => [laid.at as number, laid]));
    /** Where what links lead to begins. */
    const past = (at: number): number => {
      const next = byStart.get(at);
      return next?.move.link ? past(next.end) : at;
    };
    return (
      basicStretches(plan, danced.score, danced.whole, danced.walk?.firstStep ?? null)
        .filter(({ basic, left }) => basic && left > 0)
        // Where the music changes it says itself when to go on, and so do links that lead there.
        .filter(({ from, counts }) => !changesAt(past(from + counts)))
        .map(({ from, counts, whole, left, basic }) => {
          const at = from + counts - left;
          const next = byStart.get(from + counts);
          return {
            about: next?.id ?? 'end',
            place: placeOfCount(danced.score, at),
            figures: { left, whole, counts },
            get sentence() {
              return `${before(whole, left, basic!)}: hold ${left === 1 ? 'it' : 'them'} ${whereabouts(plan, danced, at)}.`;
            },
            fixes: () => (next?.part === 'placed' ? shiftFixes(plan, danced, next) : []),
          };
        })
    );
  },
};

function before(whole: number, left: number, { name }: Move): string {
  const basic = name.toLowerCase();
  const counts = many(left, 'count');
  if (whole === 0) return `${capital(counts)} ${left === 1 ? 'is' : 'are'} too few for a whole ${basic}`;
  return `After ${many(whole, basic)} ${counts} ${left === 1 ? 'is' : 'are'} left`;
}
