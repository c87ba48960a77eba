import { wholeSong } from '../../edit/edit.ts';
import { clock, recordTime, wholeMicros } from '../../units.ts';
import type { Danced, Fix, Rule } from '../finding.ts';
import { nowhere, seconds } from '../words.ts';

/** Fades on records take 5 to 15 s; common practice, no source. */
const FADE = 8;

export const rule: Rule = {
  id: 'length-outside',
  about: 'length',
  severity: 'warns',
  reads: ['plan'],
  what: 'The music as played is longer or shorter than the couple want.',
  why: 'Most first dances are good at about three minutes; past 4:20 guests look away.',
  todo: 'Choose another edit, or another length.',
  source: 'common practice, no source',
  fixes: ['edit'],
  run({ board, danced }) {
    const { target } = board.plan;
    if (!danced || !target) return [];
    const length = danced.score.musicLength;
    const over = length - target.length;
    if (Math.abs(over) <= target.within) return [];
    const sentence = `The music lasts ${clock(length)}, ${seconds(over)} ${over > 0 ? 'longer' : 'shorter'} than the ${clock(target.length)} that you want.`;
    const fixes = fades(danced, target.length, target.within, board.plan.edit?.speed ?? 1).map(
      ({ from, length: fade, words }): Fix => ({
        words,
        changes: [
          {
            register: 'edit',
            value: {
              ...(board.plan.edit ?? wholeSong),
              end: { kind: 'fade', from: recordTime(from), length: fade, shape: 'linear', byHand: false },
            },
          },
        ],
      }),
    );
    return [
      {
        place: nowhere,
        figures: { length, target: target.length, within: target.within },
        sentence,
        fixes: () => fixes,
      },
    ];
  },
};

/** Fades that end with a section, or else a phrase, inside the window. */
function fades({ score }: Danced, wanted: number, within: number, speed: number) {
  const ends = [...score.sections.filter((s) => s.counts > 0), ...score.phrases];
  return ends
    .filter(({ end }) => Math.abs(end - wanted) <= within && end < score.length - 1 && end > FADE)
    .slice(0, 4)
    .flatMap(({ end }) => {
      const last = score.counts.findLast((c) => c.floor <= end - FADE);
      if (!last || score.seams.some(({ floor }) => floor > last.floor && floor < end)) return [];
      const length = wholeMicros((end - last.floor) * speed);
      return [{ from: wholeMicros(last.record), length, words: `Fade out by ${clock(end)}` }];
    });
}
