import type { Places } from '../song/places.ts';
import type { AreaShape } from './area.ts';
import { type AreaName, areas, type Board } from './board.ts';
import type { Change, PlanChange } from './change.ts';
import { type FieldFacts, facts } from './field.ts';
import type { Plan } from './plan.ts';
import type { Show } from './show.ts';

export type ShowChange = Change<(typeof areas)['show']>;

/**
 * What was heard in a recording and made for all of it, at the same music in another. Null where the other does not show all of it in
 * one piece, or lacks one of its moments: then all of this is made anew.
 */
export function songInto(plan: Plan, places: Places): PlanChange[] | null {
  if (!places.whole) return null;
  const { changes, lost } = moved('plan', plan, places, ({ anew }) => anew === true);
  return lost ? null : changes;
}

/** All else of a plan that stands at moments of its recording, at the same music in another: what has no place there goes. */
export const danceInto = (plan: Plan, places: Places): PlanChange[] =>
  moved('plan', plan, places, ({ anew }) => !anew).changes;

/**
 * The same of what others do at moments of the music.
 * @param recording id of the other recording
 */
export const showInto = (show: Show, places: Places, recording: string): ShowChange[] =>
  moved('show', show, places, () => true).changes.map((change) =>
    'collection' in change && change.fields?.recording !== undefined
      ? { ...change, fields: { ...change.fields, recording } }
      : change,
  );

function moved<N extends AreaName>(
  name: N,
  data: NonNullable<Board[N]>,
  places: Places,
  wanted: (about: FieldFacts) => boolean,
): { changes: Change<(typeof areas)[N]>[]; lost: boolean } {
  const { registers, collections }: AreaShape = areas[name];
  const held = data as unknown as Record<string, unknown>;
  const changes: unknown[] = [];
  let lost = false;
  const there = (about: FieldFacts, value: unknown) => {
    const now = about.moved!(value as never, places);
    lost ||= now === null;
    return now;
  };
  for (const [register, { [facts]: about }] of Object.entries(registers)) {
    const value = held[register];
    if (about.moved && wanted(about) && value != null) changes.push({ register, value: there(about, value) });
  }
  for (const [collection, { [facts]: about }] of Object.entries(collections)) {
    if (!about.moved || !wanted(about)) continue;
    for (const { id, ...fields } of held[collection] as { id: string }[])
      changes.push({ collection, id, fields: there(about, fields) });
  }
  return { changes: changes as Change<(typeof areas)[N]>[], lost };
}
