import type { Ribbon } from '@/lib/core/handover/sheetInk.ts';
import type { SheetRow } from '@/lib/core/handover/sheetRows.ts';
import type { Presence } from '../_client/boardState.ts';
import { roleWords } from '../_ui/roles.ts';

/** Names of those who are at a row. */
export function Names({ names }: { names: string }) {
  if (!names) return null;
  return (
    <ul aria-label="Here now" className="no-print flex min-w-0 flex-wrap gap-1">
      {names.split('|').map((name) => (
        <li
          key={name}
          className="max-w-28 truncate rounded-full border border-ink bg-paper px-1.5 text-[0.8rem] leading-snug font-semibold text-ink"
        >
          <bdi>{name}</bdi>
        </li>
      ))}
    </ul>
  );
}

/** Names of the others, or their roles, by what they have in hand, joined by `|` so that an unchanged row stays as it is. */
export function handsOf(people: readonly Presence[]): Map<string, string> {
  const hands = new Map<string, string>();
  for (const { me, at, role, ...person } of people) {
    if (me || !at) continue;
    const name = person.name || roleWords[role];
    const before = hands.get(at);
    if (!before?.split('|').includes(name)) hands.set(at, before ? `${before}|${name}` : name);
  }
  return hands;
}

/** Names of those who have a row or something in it in hand; a phrase in several rows shows them in its first. */
export function namesAt(hands: Map<string, string>, row: SheetRow, ribbons: readonly Ribbon[]): string {
  if (hands.size === 0) return '';
  const things = ribbons.filter(({ begins }) => begins).map(({ id }) => id);
  if (row.opens) things.push(placeOf(row));
  const names = things.flatMap((at) => hands.get(at) ?? []);
  return [...new Set(names.flatMap((name) => name.split('|')))].join('|');
}

/** Ids of the row's moves that others have in hand, joined by `|`. */
export const heldIn = (hands: Map<string, string>, ribbons: readonly Ribbon[]): string =>
  hands.size === 0
    ? ''
    : ribbons
        .filter(({ id }) => hands.has(id))
        .map(({ id }) => id)
        .join('|');

/** What is told to the others of somebody who is at a row. */
export const placeOf = (row: SheetRow): string => (row.phrase === null ? row.id : `phrase:${row.phrase}`);
