import { recordTime, wholeMicros } from '../../units.ts';
import type { Fix, Rule } from '../finding.ts';
import { seamsOf } from '../seams.ts';
import { capital, many, seconds, whereabouts } from '../words.ts';

export const rule: Rule = {
  id: 'seam-off-bar',
  about: 'edit',
  severity: 'warns',
  reads: ['plan'],
  what: 'At a join the counts do not go on: one is missing or doubled, or comes early or late.',
  why: 'The couple’s feet stumble there, and everybody hears that something was cut.',
  todo: 'Move the join to a bar line, or learn to hold the counts there.',
  source:
    'design: within 60 ms of the grid and in bar position; a displaced beat is noticed from 2.5 % (Friberg & Sundberg 1995)',
  fixes: ['edit'],
  run({ board, danced }) {
    if (!danced) return [];
    const { plan } = board;
    return seamsOf(plan, danced)
      .filter(({ seam }) => !seam.clean)
      .map(({ seam, cut, index, place }) => {
        const where = whereabouts(plan, danced, seam.next);
        const off = Math.abs(seam.countsOff);
        const sentence =
          seam.countsOff < 0
            ? `${capital(many(off, 'count'))} ${off === 1 ? 'is' : 'are'} missing at the join ${where}.`
            : seam.countsOff > 0
              ? `There ${off === 1 ? 'is one count' : `are ${many(off, 'count')}`} too many at the join ${where}: hold them.`
              : `The beat ${where}, after the join, comes ${seconds(seam.off)} ${seam.off > 0 ? 'late' : 'early'}.`;
        const bars = danced.grid.bars.map((i) => danced.grid.beats[i]!);
        const nearest = (at: number) => [...bars].sort((a, b) => Math.abs(a - at) - Math.abs(b - at))[0]!;
        const from = recordTime(wholeMicros(nearest(cut.from)));
        const to = recordTime(wholeMicros(nearest(cut.to)));
        const { beatErrorMs: _measured, ...rest } = cut;
        const cuts = plan.edit!.cuts.map((other, i) => (i === index ? { ...rest, from, to } : other));
        const inOrder = cuts.every((c, i) => c.from < c.to && (i === 0 || c.from >= cuts[i - 1]!.to));
        const fix: Fix = {
          words: 'Move the join to the bar lines',
          changes: [{ register: 'edit', value: { ...plan.edit!, cuts } }],
        };
        return {
          about: String(index),
          place,
          figures: { countsOff: seam.countsOff, secondsOff: seam.off },
          sentence,
          fixes: () => (inOrder ? [fix] : []),
        };
      });
  },
};
