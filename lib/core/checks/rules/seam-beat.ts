import type { Rule } from '../finding.ts';
import { seamsOf } from '../seams.ts';
import { whereabouts } from '../words.ts';

/** A displaced beat is just noticed at 2.5 % of the interval, below 240 ms at 6 ms (Friberg & Sundberg 1995). */
const noticedMs = (intervalMs: number): number => (intervalMs < 240 ? 6 : 0.025 * intervalMs);

export const rule: Rule = {
  id: 'seam-beat',
  about: 'edit',
  severity: 'warns',
  reads: ['plan'],
  what: 'As measured from the sound, the beat after a join comes earlier or later than an ear lets pass.',
  why: 'A beat that stumbles is the first thing that gives a join away.',
  todo: 'Let the join be aligned to the sound again, or listen to it and decide.',
  source: 'Friberg & Sundberg 1995: 6 ms below 240 ms between beats, 2.5 % above',
  fixes: [],
  run({ board, danced }) {
    if (!danced) return [];
    const beats = danced.grid.beats;
    return seamsOf(board.plan, danced).flatMap(({ seam, cut, index, place }) => {
      const { beatErrorMs } = cut;
      if (beatErrorMs === undefined) return [];
      const after = beats.findIndex((beat) => beat >= cut.to);
      const intervalMs = 1000 * ((beats[after + 1] ?? beats.at(-1)!) - (beats[after] ?? beats.at(-2)!));
      const noticed = noticedMs(intervalMs);
      if (Math.abs(beatErrorMs) <= noticed) return [];
      return [
        {
          about: String(index),
          place,
          figures: { beatErrorMs, noticed },
          sentence: `The beat after the join ${whereabouts(board.plan, danced, seam.next)} comes ${Math.round(Math.abs(beatErrorMs))} ms ${beatErrorMs > 0 ? 'late' : 'early'}; from ${Math.round(noticed)} ms on it is noticed.`,
        },
      ];
    });
  },
};
