import type { RowInk } from '@/lib/core/handover/sheetInk.ts';
import type { SheetRow } from '@/lib/core/handover/sheetRows.ts';
import type { Group } from './groups.ts';

/** Rows of one section in which nothing but the basic is danced, one after the other. */
export interface BasicRows {
  kind: 'basic';
  rows: SheetRow[];
}

/** Fewer than this are no longer than the line that would stand for them. */
const LEAST = 2;

/** Nothing is in this row but the basic, and perhaps a word that opens it. */
export function isBasic(ink: RowInk): boolean {
  const { ribbons, tapers, basics, walk, firstStep, landing, hold, seams, fade, words, signal } = ink;
  const empty = [ribbons, tapers, seams, words].every((list) => list.length === 0);
  const none = [walk, firstStep, landing, hold, fade].every((one) => one === null);
  return basics.length > 0 && empty && none && !signal;
}

/** A section's items with its runs of such rows put together. */
export function withBasicRows(
  items: Group['items'],
  isPlain: (row: SheetRow) => boolean,
): (Group['items'][number] | BasicRows)[] {
  const all: (Group['items'][number] | BasicRows)[] = [];
  let run: SheetRow[] = [];
  const end = () => {
    if (run.length >= LEAST) all.push({ kind: 'basic', rows: run });
    else all.push(...run.map((row) => ({ kind: 'row' as const, row })));
    run = [];
  };
  for (const item of items) {
    if (item.kind === 'row' && isPlain(item.row)) run.push(item.row);
    else {
      end();
      all.push(item);
    }
  }
  end();
  return all;
}
