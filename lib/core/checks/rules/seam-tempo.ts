import { median } from '../../signal/statistics.ts';
import type { Rule } from '../finding.ts';
import { seamsOf } from '../seams.ts';
import { whereabouts } from '../words.ts';

/** Tempo change just noticeable over six intervals: 3 % (Drake & Botte 1993). */
const NOTICED = 0.03;
const INTERVALS = 6;

export const rule: Rule = {
  id: 'seam-tempo',
  about: 'edit',
  severity: 'warns',
  reads: ['plan'],
  what: 'The music is faster or slower after a join than before it.',
  why: 'The couple’s basic is out of step until they have found the new speed.',
  todo: 'Join at another place, where the music has the same speed.',
  source: 'Drake & Botte 1993: 3 % is just noticeable over six intervals',
  fixes: [],
  run({ board, danced }) {
    if (!danced) return [];
    const { counts } = danced.score;
    return seamsOf(board.plan, danced).flatMap(({ seam, index, place }) => {
      const interval = (from: number, to: number) =>
        median(counts.slice(from + 1, to).map((c, i) => c.floor - counts[from + i]!.floor));
      const before = interval(Math.max(0, seam.next - INTERVALS - 1), seam.next);
      const after = interval(seam.next, Math.min(counts.length, seam.next + INTERVALS + 1));
      if (!(before > 0 && after > 0) || Math.abs(after / before - 1) <= NOTICED) return [];
      const percent = Math.round(1000 * Math.abs(before / after - 1)) / 10;
      return [
        {
          about: String(index),
          place,
          figures: { before: 60 / before, after: 60 / after },
          sentence: `After the join ${whereabouts(board.plan, danced, seam.next)} the music is ${percent} % ${after < before ? 'faster' : 'slower'}.`,
        },
      ];
    });
  },
};
