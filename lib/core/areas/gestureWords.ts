import { listed, openOf } from '../song/confirmed.ts';
import type { Plan } from './plan.ts';
import { planDifferences } from './planDifferences.ts';

/** What one gesture did, told to whoever made it: what differs now, and what it confirmed, which differs for nobody. */
export function gestureWords(before: Plan, now: Plan): string[] {
  const confirmed = confirmedBetween(before, now);
  const words = confirmed.length > 0 ? [`Confirmed: ${listed(confirmed)}.`] : [];
  return [...planDifferences(before, now), ...words];
}

function confirmedBetween(before: Plan, now: Plan): string[] {
  if (before.recording?.id !== now.recording?.id) return [];
  const open = new Set(openOf(now).map(({ about }) => about));
  const closed = openOf(before).flatMap(({ about }) => (open.has(about) ? [] : [about]));
  const signed = new Set(now.sections.flatMap(({ id, confirmedBy }) => (confirmedBy === null ? [] : [id])));
  const some = before.sections.filter(({ id, confirmedBy }) => confirmedBy === null && signed.has(id)).length;
  if (some === 0 || closed.includes('sections')) return closed;
  return [...closed, some === 1 ? 'a section' : `${some} sections`];
}
