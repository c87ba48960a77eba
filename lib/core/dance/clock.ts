import { compileEdit } from '../edit/compile.ts';
import { wholeSong } from '../edit/edit.ts';
import type { FloorTime, RecordTime } from '../units.ts';
import type { DancePlan } from './plan.ts';

/** Seconds of the recording; without one, to the end of the grid's last beat. */
export function songDuration(plan: Pick<DancePlan, 'grid' | 'recording'>): number {
  if (plan.recording) return plan.recording.duration;
  const beats = plan.grid?.beats ?? [];
  const last = beats.at(-1) ?? 0;
  return last + (last - (beats.at(-2) ?? last));
}

type Played = Pick<DancePlan, 'grid' | 'recording' | 'edit'>;

/** Of moments of the recording, when each is heard on the floor; null where the edit leaves it out. */
export const floorClock = (plan: Played): ((at: RecordTime) => FloorTime | null) =>
  compileEdit(plan.edit ?? wholeSong, { duration: songDuration(plan) }).toFloor;

/** The same of one moment. */
export const floorOf = (plan: Played, at: RecordTime): FloorTime | null => floorClock(plan)(at);
