import { type RecordTime, recordTime, wholeMicros } from '../units.ts';
import type { PlanChange } from './change.ts';
import type { Plan } from './plan.ts';

/**
 * Everything of a plan that stands at a time of its recording, moved to the same music in a copy of it whose clock shows that music
 * `later` seconds later (earlier where negative): beats, sections, edit, words, moves, first step and ending. Null where a part of
 * it is not in the copy any more.
 */
export function shiftedSong(plan: Plan, later: number): PlanChange[] | null {
  let inside = true;
  const moved = (at: RecordTime): RecordTime => {
    const then = wholeMicros(at + later);
    inside &&= then >= 0;
    return recordTime(then);
  };
  const { grid, edit, walkOn, ending } = plan;
  const changes: PlanChange[] = [
    ...plan.sections.map(
      ({ id, start }): PlanChange => ({ collection: 'sections', id, fields: { start: moved(start) } }),
    ),
    ...plan.cues.map(({ id, at }): PlanChange => ({ collection: 'cues', id, fields: { at: moved(at) } })),
    ...plan.placed.map(({ id, at }): PlanChange => ({ collection: 'placed', id, fields: { at: moved(at) } })),
  ];
  if (grid) {
    const { beats, held } = grid;
    const kept = held && { held: { bars: held.bars.map(moved), beats: held.beats.map(moved) } };
    changes.push({ register: 'grid', value: { ...grid, beats: beats.map(moved), ...kept } });
  }
  if (edit) {
    const { start, cuts, end } = edit;
    const value = {
      ...edit,
      // A song that is played from its very beginning still is where the copy begins a little later into it.
      start: recordTime(Math.max(0, wholeMicros(start + later))),
      cuts: cuts.map((cut) => ({ ...cut, from: moved(cut.from), to: moved(cut.to) })),
      end: end.kind === 'fade' ? { ...end, from: moved(end.from) } : end,
    };
    changes.push({ register: 'edit', value });
  }
  if (walkOn?.firstStep != null)
    changes.push({ register: 'walkOn', value: { ...walkOn, firstStep: moved(walkOn.firstStep) } });
  if (ending) {
    const { target } = ending;
    changes.push({ register: 'ending', value: { ...ending, target: { ...target, at: moved(target.at) } } });
  }
  return inside ? changes : null;
}
