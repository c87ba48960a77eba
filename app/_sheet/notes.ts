import type { Finding } from '@/lib/core/checks/finding.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { rowOf, type SheetRow } from '@/lib/core/handover/sheetRows.ts';

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

/** Px that a note takes in the margin, rather too many than too few: 38 letters a line. Its fix is not looked for here. */
const heightOf = ({ sentence }: Finding, mayBeFixed: boolean): number =>
  18 + 25 * Math.ceil(sentence.length / 38) + (mayBeFixed ? 50 : 0) + 8;

/** How many of a row's notes stand open: two that press, else one; an idea can wait behind "more". */
export const shownOf = (notes: readonly Finding[]): number =>
  Math.max(1, Math.min(2, notes.filter(({ severity }) => severity !== 'hints').length));

/** Px of what is left out, folded. */
const FOLD = 46;
/** Px in which an idea is still seen to be one. */
const LEAST = 48;
/** Px of the line that opens further notes. */
const MORE = 52;

/** Notes of a row that hang down beside the rows after it, so that a row is no taller than its music. */
export interface Hanging {
  /** Px that they begin lower than their row, where those before them take its room. */
  down: number;
  /** Px that they may take. */
  room: number;
  /** Ideas that take more: shown as far as there is room, and in full under the pointer or with the focus. */
  isCut: boolean;
}

/**
 * How the notes of each row hang, by row id. What presses is never cut: where it takes more than there is until the next row with
 * notes, those begin lower. A row whose notes would hang out over the sheet's end is as tall as they are.
 * @param height px of a row
 * @param folds what is left out between them; `after` is the index of a row
 * @param mayBeFixed ids of the rules that may offer a fix
 */
export function hangingNotes(
  rows: readonly SheetRow[],
  beside: ReadonlyMap<string, readonly Finding[]>,
  height: number,
  folds: readonly { after: number }[],
  mayBeFixed: ReadonlySet<string>,
): Map<string, Hanging> {
  const topOf = (i: number) => i * height + folds.filter(({ after }) => after < i).length * FOLD;
  const noted = rows.flatMap((row, i) => (beside.has(row.id) ? [{ row, i }] : []));
  const hanging = new Map<string, Hanging>();
  /** Px from the sheet's top under which the margin is free. */
  let free = 0;
  for (const [k, { row, i }] of noted.entries()) {
    const notes = beside.get(row.id)!;
    const next = noted[k + 1]?.i ?? rows.length;
    const most = shownOf(notes);
    const more = notes.length > most ? MORE : 0;
    const needed = notes
      .slice(0, most)
      .reduce((sum, note) => sum + heightOf(note, mayBeFixed.has(note.rule)), more);
    const from = Math.max(topOf(i), free);
    const until = topOf(next) - from;
    if (needed > until && next === rows.length) continue;
    const presses = notes.some(({ severity }) => severity !== 'hints');
    const isCut = needed > until && !presses && until >= LEAST;
    hanging.set(row.id, { down: from - topOf(i), room: isCut ? until : Math.max(until, needed), isCut });
    free = from + (isCut ? until : needed);
  }
  return hanging;
}
