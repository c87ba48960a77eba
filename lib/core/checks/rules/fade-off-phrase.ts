import { recordTime, wholeMicros } from '../../units.ts';
import type { Fix, Rule } from '../finding.ts';
import { many, placeOfCount, whereabouts } from '../words.ts';

export const rule: Rule = {
  id: 'fade-off-phrase',
  about: 'edit',
  severity: 'warns',
  reads: ['plan'],
  what: 'The fade does not end with a phrase.',
  why: 'Music that goes away in the middle of a line sounds like a mistake.',
  todo: 'Let the fade end where a phrase or section ends.',
  source: 'common practice, no source',
  fixes: ['edit'],
  run({ board, danced }) {
    const edit = board.plan.edit;
    if (!danced?.score.fade || edit?.end.kind !== 'fade') return [];
    const { score } = danced;
    const { to, from } = score.fade!;
    const { end } = edit;
    const last = score.phrases.at(-1);
    if (!last) return [];
    // The last phrase ends with the file: it is whole when none of its counts is lost.
    const lost = last.full - last.counts;
    if (lost === 0) return [];
    const whole = last.floor + last.full * score.interval;
    const ends = [...score.phrases.slice(0, -1).map((p) => p.end as number), whole];
    const nearest = ends.sort((a, b) => Math.abs(a - to) - Math.abs(b - to));
    const fixes = nearest.slice(0, 3).flatMap((wanted): Fix[] => {
      const start = wholeMicros(end.from + (wanted - to) * edit.speed);
      if (start <= edit.start || start < 0 || from + (wanted - to) <= 0) return [];
      return [
        {
          words:
            wanted > to
              ? 'Fade a little later, to the end of the phrase'
              : 'Fade a little earlier, to the end of the phrase before',
          changes: [{ register: 'edit', value: { ...edit, end: { ...end, from: recordTime(start) } } }],
        },
      ];
    });
    return [
      {
        place: placeOfCount(score, last.first),
        figures: { countsLost: lost, fadeEnds: to },
        sentence: `The fade ends inside the phrase ${whereabouts(board.plan, danced, last.first)}: ${many(lost, 'count')} of it ${lost === 1 ? 'is' : 'are'} lost.`,
        fixes: () => fixes,
      },
    ];
  },
};
