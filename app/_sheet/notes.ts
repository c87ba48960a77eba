import type { Finding } from '@/lib/core/checks/finding.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { rowOf, type SheetRow } from './layout.ts';

/** Findings beside their rows, by row id, and those that have no row. */
export function notesByRow(
  findings: readonly Finding[],
  score: FloorScore,
  rows: readonly SheetRow[],
): { beside: Map<string, Finding[]>; top: Finding[] } {
  const beside = new Map<string, Finding[]>();
  const top: Finding[] = [];
  for (const finding of findings) {
    const { phrase, count } = finding.place;
    const at = phrase === null ? null : (count ?? score.phrases[phrase]?.first ?? null);
    const row = at === null ? undefined : rows[rowOf(rows, at)];
    if (row) beside.set(row.id, [...(beside.get(row.id) ?? []), finding]);
    else top.push(finding);
  }
  return { beside, top };
}

/** What a person is to make of a finding, in two words. */
export const severityWords: Record<Finding['severity'], string> = {
  blocks: 'to settle',
  warns: 'worth a look',
  hints: 'an idea',
};

/** Px that a note takes in the margin, rather too many than too few: 30 letters a line. */
const heightOf = ({ sentence, fix }: Finding): number =>
  18 + 26 * Math.ceil(sentence.length / 30) + (fix ? 46 + 20 * Math.floor(fix.words.length / 30) : 0) + 10;

/**
 * Rows whose notes may hang down beside the rows after them, because those have none for long enough: so the sheet keeps its
 * pace, and a row is no taller than its music.
 * @param height px of a row
 */
export function hangingRows(
  rows: readonly SheetRow[],
  beside: ReadonlyMap<string, readonly Finding[]>,
  height: number,
  most: number,
): Set<string> {
  const hanging = new Set<string>();
  for (const [i, row] of rows.entries()) {
    const notes = beside.get(row.id);
    if (!notes || notes.length > most) continue;
    const next = rows.findIndex((other, k) => k > i && beside.has(other.id));
    const free = ((next < 0 ? rows.length : next) - i) * height;
    if (notes.reduce((sum, note) => sum + heightOf(note), 0) <= free) hanging.add(row.id);
  }
  return hanging;
}
