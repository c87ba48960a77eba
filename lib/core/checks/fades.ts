import type { Plan } from '../areas/plan.ts';
import { wholeSong } from '../edit/edit.ts';
import { clock, recordTime, wholeMicros } from '../units.ts';
import type { Danced, Fix } from './finding.ts';

/** Fades on records take 5 to 15 s; common practice, no source. */
const FADE = 8;

/** Fixes that fade with the end of a section, or else of a phrase, within so many seconds of a wanted length. */
export function fadeFixes(plan: Plan, { score }: Danced, wanted: number, within: number): Fix[] {
  const edit = plan.edit ?? wholeSong;
  const ends = [...score.sections.filter((s) => s.counts > 0), ...score.phrases];
  return ends
    .filter(({ end }) => Math.abs(end - wanted) <= within && end < score.length - 1 && end > FADE)
    .slice(0, 4)
    .flatMap(({ end }): Fix[] => {
      const last = score.counts.findLast((c) => c.floor <= end - FADE);
      if (!last || score.seams.some(({ floor }) => floor > last.floor && floor < end)) return [];
      const from = recordTime(wholeMicros(last.record));
      const length = wholeMicros((end - last.floor) * edit.speed);
      const value = {
        ...edit,
        end: { kind: 'fade' as const, from, length, shape: 'linear' as const, byHand: false },
      };
      return [{ words: `Fade out by ${clock(end)}`, changes: [{ register: 'edit', value }] }];
    });
}
