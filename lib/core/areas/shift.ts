import { type Moving, recordTime, wholeMicros } from '../units.ts';
import type { AreaShape } from './area.ts';
import { type AreaName, areas, type Board } from './board.ts';
import type { Change, PlanChange } from './change.ts';
import { facts } from './field.ts';
import type { Plan } from './plan.ts';
import type { Show } from './show.ts';

/**
 * Everything of a plan that stands at a time of its recording, moved to the same music in a copy of it whose clock shows that music
 * `later` seconds later (earlier where negative). Null where a part of it is not in the copy any more.
 */
export const shiftedSong = (plan: Plan, later: number): PlanChange[] | null => shifted('plan', plan, later);

/** The same of what others do at moments of the music. */
export const shiftedShow = (show: Show, later: number): Change<(typeof areas)['show']>[] | null =>
  shifted('show', show, later);

function shifted<N extends AreaName>(
  name: N,
  data: NonNullable<Board[N]>,
  later: number,
): Change<(typeof areas)[N]>[] | null {
  let inside = true;
  const to: Moving = (at, least) => {
    const then = Math.max(wholeMicros(at + later), least ?? Number.NEGATIVE_INFINITY);
    inside &&= then >= 0;
    return recordTime(then);
  };
  const { registers, collections }: AreaShape = areas[name];
  const held = data as unknown as Record<string, unknown>;
  const changes: unknown[] = [];
  for (const [register, schema] of Object.entries(registers)) {
    const { moved } = schema[facts];
    const value = held[register];
    if (moved && value != null) changes.push({ register, value: moved(value as never, to) });
  }
  for (const [collection, schema] of Object.entries(collections)) {
    const { moved } = schema[facts];
    if (moved)
      for (const { id, ...fields } of held[collection] as { id: string }[])
        changes.push({ collection, id, fields: moved(fields as never, to) });
  }
  return inside ? (changes as Change<(typeof areas)[N]>[]) : null;
}
