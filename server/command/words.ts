import { Wrong } from './wrong.ts';

/** Seconds: no song is longer. */
const LONGEST = 3600;

/** Seconds of `185`, `3:05` or `3:05.5`, as they were given with an option. */
export function secondsOf(text: string, option: string): number {
  const match = /^(?:(\d+):(?=\d\d))?(\d+(?:\.\d+)?)$/.exec(text.trim());
  const [, minutes, rest] = match ?? [];
  if (rest === undefined || (minutes !== undefined && Number(rest) >= 60)) {
    throw new Wrong(`${option}: "${text}" is no length: write seconds, or minutes and seconds as 3:05.`);
  }
  const seconds = 60 * Number(minutes ?? 0) + Number(rest);
  if (seconds > LONGEST) throw new Wrong(`${option}: "${text}" is longer than an hour.`);
  return seconds;
}

/** Columns side by side for people; the first row is the head. */
export function table(rows: readonly (readonly string[])[]): string {
  const widths = rows[0]!.map((_, c) => Math.max(...rows.map((row) => (row[c] ?? '').length)));
  return rows
    .map((row) =>
      row
        .map((cell, c) => cell.padEnd(widths[c]!))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

/** Seconds as programs read them: whole microseconds are more than enough. */
export const exact = (seconds: number): number => Math.round(seconds * 1e6) / 1e6;

export const plural = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;
