import type { Finding } from '@/lib/core/checks/finding.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { rowOf, type SheetRow } from './layout.ts';

/** Findings beside their rows, by row id, and those that have no row; in each place the most pressing first. */
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
  for (const notes of [top, ...beside.values()])
    notes.sort((a, b) => URGENCY[a.severity] - URGENCY[b.severity]);
  return { beside, top };
}

const URGENCY: Record<Finding['severity'], number> = { blocks: 0, warns: 1, hints: 2 };

/** What a person is to make of findings, in two words. */
const severityWords: Record<Finding['severity'], string> = {
  blocks: 'to settle',
  warns: 'worth a look',
  hints: 'an idea',
};

/** What stands over a finding: what can hurt somebody is more than an idea. */
export const headOf = ({ rule, severity }: Finding): string =>
  rule === 'caution' ? 'take care' : severityWords[severity];

/** "1 to settle, 2 worth a look" */
export const countWords = (notes: readonly Finding[]): string =>
  (Object.keys(URGENCY) as Finding['severity'][])
    .map((severity) => ({ severity, n: notes.filter((note) => note.severity === severity).length }))
    .filter(({ n }) => n > 0)
    .map(
      ({ severity, n }) =>
        `${n} ${severity === 'hints' && n > 1 ? 'ideas' : severityWords[severity].replace(/^an /, '')}`,
    )
    .join(', ');

/** Px that a note takes in the margin, rather too many than too few: 30 letters a line. Its fix is not looked for here. */
const heightOf = ({ sentence }: Finding, mayBeFixed: boolean): number =>
  18 + 26 * Math.ceil(sentence.length / 30) + (mayBeFixed ? 66 : 0) + 10;

/** How many of a row's notes stand open: two that press, else one; an idea can wait behind "more". */
export const shownOf = (notes: readonly Finding[]): number =>
  Math.max(1, Math.min(2, notes.filter(({ severity }) => severity !== 'hints').length));

/** Px of the line that opens further notes. */
const MORE = 52;

/**
 * Rows whose notes may hang down beside the rows after them, because those have none for long enough: so the sheet keeps its
 * pace, and a row is no taller than its music.
 * @param height px of a row
 * @param mayBeFixed ids of the rules that may offer a fix
 */
export function hangingRows(
  rows: readonly SheetRow[],
  beside: ReadonlyMap<string, readonly Finding[]>,
  height: number,
  mayBeFixed: ReadonlySet<string>,
): Set<string> {
  const hanging = new Set<string>();
  for (const [i, row] of rows.entries()) {
    const notes = beside.get(row.id);
    if (!notes) continue;
    const next = rows.findIndex((other, k) => k > i && beside.has(other.id));
    const most = shownOf(notes);
    const free = ((next < 0 ? rows.length : next) - i) * height;
    // Opened, the notes behind "more" would lie over those of a later row.
    if (notes.length > most && next >= 0) continue;
    const more = notes.length > most ? MORE : 0;
    const needed = notes
      .slice(0, most)
      .reduce((sum, note) => sum + heightOf(note, mayBeFixed.has(note.rule)), more);
    if (needed <= free) hanging.add(row.id);
  }
  return hanging;
}
