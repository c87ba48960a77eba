import type { Rule } from '../finding.ts';
import { joinFigures, seamsOf } from '../seams.ts';
import { whereabouts } from '../words.ts';

/** A step of about 1 dB is just noticed in steady sound; music moves by more on its own, so three times that warns. */
const STEP = 3;

export const rule: Rule = {
  id: 'seam-level',
  about: 'edit',
  severity: 'warns',
  reads: ['plan'],
  what: 'The music is clearly louder or quieter right after a join.',
  why: 'A sudden step in loudness is what gives a join away.',
  todo: 'Join at another place, or let the DJ know.',
  source: 'about 1 dB is just noticeable (second-hand); three times that: common practice, no source',
  fixes: [],
  run({ board, danced }) {
    if (!danced?.heard) return [];
    const { heard } = danced;
    return seamsOf(board.plan, danced).flatMap(({ seam, cut, index, place }) => {
      const step = joinFigures(danced, heard, cut).figures.levelStepLu;
      if (Math.abs(step) <= STEP) return [];
      return [
        {
          about: String(index),
          place,
          figures: { stepLu: step },
          sentence: `After the join ${whereabouts(board.plan, danced, seam.next)} the music is ${Math.abs(step).toFixed(1)} dB ${step > 0 ? 'louder' : 'quieter'}.`,
        },
      ];
    });
  },
};
