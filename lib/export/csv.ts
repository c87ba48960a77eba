import type { EntryFacts } from '../core/agreed/entry.ts';
import { clock } from '../core/units.ts';
import { entryTimes } from '../zone/entryTimes.ts';

/** A spreadsheet takes a cell that begins with one of these for a formula: an apostrophe in front makes it text. */
const FORMULA = /^[=+\-@\t\r]/;

/** One field of RFC 4180: quoted where it must be, quotes doubled. */
export function csvField(value: string): string {
  const text = FORMULA.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Rows of RFC 4180: fields apart by commas, each row ended by CRLF. */
export const csv = (rows: readonly (readonly string[])[]): string =>
  rows.map((row) => `${row.map(csvField).join(',')}\r\n`).join('');

/** The run-of-show entry as a table: its moments in order, then every printed fact. */
export function entryCsv(entry: EntryFacts): string {
  const times = entryTimes(entry);
  const facts = [...Object.entries(entry.facts), ...(times?.note ? [['clock', times.note] as const] : [])];
  return csv([
    ['time', 'in the music', 'who', 'what'],
    ...entry.moments.map(({ after, floor, who, what }) => [
      times?.clock(after) ?? '',
      clock(floor),
      who,
      what,
    ]),
    ...facts.map(([label, value]) => ['', '', label, value]),
  ]);
}
