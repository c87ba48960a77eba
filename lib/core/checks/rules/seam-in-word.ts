import { recordTime, wholeMicros } from '../../units.ts';
import type { Fix, Rule } from '../finding.ts';
import { seamsOf } from '../seams.ts';
import { quoted } from '../words.ts';

/** A sung word lasts about this long, seconds; common practice, no source. */
const WORD = 0.4;

export const rule: Rule = {
  id: 'seam-in-word',
  about: 'edit',
  severity: 'warns',
  reads: ['plan'],
  what: 'A join cuts a cue word off.',
  why: 'The couple listen for that word, and hear half of it.',
  todo: 'Put the join up to a beat earlier, before the word.',
  source: 'common practice, no source',
  fixes: ['edit'],
  run({ board, danced }) {
    if (!danced) return [];
    const { plan } = board;
    return seamsOf(plan, danced).flatMap(({ cut, index, place }) => {
      // Cut off at its end before the join, or sung just before the music goes on after it.
      const clipped = plan.cues.find(
        ({ at }) =>
          (at < cut.from - 1e-6 && at > cut.from - WORD) || (at < cut.to - 1e-6 && at > cut.to - WORD),
      );
      if (!clipped) return [];
      const shifts = [danced.score.interval / 2, danced.score.interval].map((s) => wholeMicros(s));
      const fixes = shifts.flatMap((shift): Fix[] => {
        const moved = {
          ...cut,
          from: recordTime(wholeMicros(cut.from - shift)),
          to: recordTime(wholeMicros(cut.to - shift)),
        };
        const floor = index > 0 ? plan.edit!.cuts[index - 1]!.to : plan.edit!.start;
        if (moved.from <= floor) return [];
        const cuts = plan.edit!.cuts.map((other, i) => (i === index ? moved : other));
        return [
          {
            words: 'Join a little earlier, before the word',
            changes: [{ register: 'edit', value: { ...plan.edit!, cuts } }],
          },
        ];
      });
      return [
        {
          about: String(index),
          place,
          figures: { word: clipped.word },
          sentence: `The join cuts off ${quoted(clipped.word)}.`,
          fixes: () => fixes,
        },
      ];
    });
  },
};
