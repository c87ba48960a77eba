import { sectionNames } from '../../edit/sectionNames.ts';
import { nearest } from '../../song/stretches.ts';
import { recordTime } from '../../units.ts';
import type { Rule } from '../finding.ts';
import { capital, placeOfRecord, seconds } from '../words.ts';

/** Four in five section starts of the annotated pop songs of the Harmonix Set lie within 70 ms of a bar line. */
const WITHIN = 0.07;

export const rule: Rule = {
  id: 'section-off-bar',
  about: 'song',
  severity: 'warns',
  reads: ['plan'],
  what: 'A section begins beside a bar line.',
  why: 'Its phrases, and all moves on them, would be counted from the wrong place.',
  todo: 'Move the start of the section to the bar line.',
  source: 'Harmonix Set (Nieto et al. 2019): 82 % of section starts within 70 ms of a bar line',
  fixes: ['sections'],
  run({ board, danced }) {
    if (!danced) return [];
    const { sections } = board.plan;
    const names = sectionNames(sections);
    const bars = danced.grid.bars.map((i) => danced.grid.beats[i]!);
    return sections.flatMap((section) => {
      const near = bars[nearest(bars, section.start)];
      // The first section may begin with the recording, before the first bar.
      if (near === undefined || section.start <= bars[0]! || Math.abs(near - section.start) <= WITHIN)
        return [];
      const off = near - section.start;
      const taken = sections.some(({ start }) => start === near);
      const fix = {
        words: 'Move its start to the bar line',
        changes: [{ collection: 'sections' as const, id: section.id, fields: { start: recordTime(near) } }],
      };
      return [
        {
          about: section.id,
          place: placeOfRecord(board.plan, danced.score, section.start),
          figures: { secondsOff: off },
          sentence: `${capital(names.get(section.id)!)} begins ${seconds(off)} ${off > 0 ? 'before' : 'after'} a bar line.`,
          fixes: () => (taken ? [] : [fix]),
        },
      ];
    });
  },
};
