import { closeSync, fdatasyncSync, openSync, rmSync, writeSync } from 'node:fs';
import { loadavg } from 'node:os';
import { join } from 'node:path';

/** The value below which the part `share` of them lies; NaN of none. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = Float64Array.from(values).sort();
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}

/** Milliseconds of single syncs of 4 KB to a new file in the folder. */
export function syncTimes(folder: string, count = 40): number[] {
  const path = join(folder, 'sync-times');
  const file = openSync(path, 'w');
  const page = new Uint8Array(4096);
  const times: number[] = [];
  for (let index = 0; index < count; index++) {
    writeSync(file, page);
    const before = performance.now();
    fdatasyncSync(file);
    times.push(performance.now() - before);
  }
  closeSync(file);
  rmSync(path);
  return times;
}

export const megabytes = (bytes: number): string => (bytes / 1e6).toFixed(1);
export const load = (): string =>
  `load ${loadavg()
    .map((value) => value.toFixed(1))
    .join(' ')}`;

/** Prints rows in columns, the first one the heads. */
export function printTable(rows: readonly (readonly (string | number)[])[]): void {
  const cells = rows.map((row) =>
    row.map((cell) => (typeof cell === 'number' && !Number.isInteger(cell) ? cell.toFixed(2) : `${cell}`)),
  );
  const widths = cells[0]!.map((_, column) => Math.max(...cells.map((row) => row[column]!.length)));
  for (const row of cells)
    process.stdout.write(
      `${row.map((cell, column) => (column === 0 ? cell.padEnd(widths[0]!) : cell.padStart(widths[column]!))).join('  ')}\n`,
    );
}

/** One line for a bar, and the exit code when it is missed. */
export function judge(words: string, holds: boolean): void {
  process.stdout.write(`${holds ? 'holds      ' : 'FALLS SHORT'} ${words}\n`);
  if (!holds) process.exitCode = 1;
}
