import type { FloorScore } from '@/lib/core/edit/score.ts';
import type { SheetRow } from '@/lib/core/handover/sheetRows.ts';
import type { Fold } from './folds.ts';

/** A section's rows, with what is left out between them. */
export interface Group {
  key: string;
  /** Name of the section; empty before the first. */
  name: string;
  /** Id of the section in the plan; empty where there is none. */
  section: string;
  items: ({ kind: 'row'; row: SheetRow } | { kind: 'fold'; fold: Fold })[];
}

/** Rows under the sections that they belong to; a fold lies at the end of the section after whose row it comes. */
export function groupsOf(score: FloorScore, rows: readonly SheetRow[], folds: readonly Fold[]): Group[] {
  const groups: Group[] = [];
  const foldsAfter = (at: number) => folds.filter(({ after }) => after === at);
  const add = (fold: Fold) => groups.at(-1)?.items.push({ kind: 'fold', fold });
  const opening = foldsAfter(-1);
  for (const [i, row] of rows.entries()) {
    const section = row.section === null ? undefined : score.sections[row.section];
    const before = groups.at(-1);
    if (!before || before.section !== (section?.id ?? '')) {
      groups.push({
        key: `${section?.id ?? 'none'}-${i}`,
        name: section?.name ?? '',
        section: section?.id ?? '',
        items: [],
      });
    }
    if (i === 0) for (const fold of opening) add(fold);
    groups.at(-1)!.items.push({ kind: 'row', row });
    for (const fold of foldsAfter(i)) add(fold);
  }
  return groups;
}
