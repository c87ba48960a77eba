import type { PlanChange } from '@/lib/core/areas/change.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { type Correction, overruled } from '@/lib/core/song/evidence.ts';
import { byNobody, type Grid, type GridAspect } from '@/lib/core/song/grid.ts';
import { confirmGrid, correctedBy } from '@/lib/core/song/signing.ts';
import { nearest } from '@/lib/core/song/stretches.ts';
import { barTimes } from './sectionSteps.ts';

/** What people have said of the counts together with something new, and the changes that keep it. */
export function withSaid(
  plan: Pick<Plan, 'corrections'>,
  said: readonly Correction[],
  ids: readonly string[],
): { all: Correction[]; changes: PlanChange[] } {
  let kept = plan.corrections;
  const changes: PlanChange[] = [];
  for (const [i, one] of said.entries()) {
    const gone = new Set(overruled(kept, one));
    for (const { id } of plan.corrections.filter((entry) => gone.has(entry.id)))
      changes.push({ collection: 'corrections', id, fields: null });
    kept = kept.filter(({ id }) => !gone.has(id));
    changes.push({ collection: 'corrections', id: ids[i]!, fields: one });
  }
  return { all: [...kept.map(({ id: _, ...rest }) => rest), ...said], changes };
}

/** Where nothing was heard, corrections begin with a grid of four that holds nothing. */
export const NO_GRID: Grid = {
  beats: [],
  bars: [],
  beatsPerBar: 4,
  subdivision: 2,
  countLevel: 'beat',
  confirmedBy: byNobody,
};

/** Which aspect of the counts a correction is about; what says that no bar begins somewhere confirms nothing. */
export const aspectOf = ({ kind }: Correction): GridAspect | null =>
  kind === 'metre' ? 'metre' : kind === 'bars' ? 'bars' : kind === 'not bars' ? null : 'beats';

/**
 * The counts as heard again, with whose word they are, and sections that only the program placed moved to the bar lines by which
 * they stood.
 */
export function countsChanges(
  plan: Pick<Plan, 'grid' | 'sections'>,
  grid: Grid,
  said: readonly Correction[],
  by: string,
): PlanChange[] {
  const aspects = [...new Set(said.map(aspectOf))].filter((one) => one !== null);
  const before = plan.grid ?? NO_GRID;
  const looked = correctedBy(by, before, { ...grid, confirmedBy: before.confirmedBy }, aspects[0] ?? 'beats');
  // What nobody looked at and was changed is open again; what was not said is nobody's.
  const open =
    aspects.length === 0
      ? { ...looked, confirmedBy: { ...looked.confirmedBy, beats: before.confirmedBy.beats } }
      : looked;
  return [{ register: 'grid', value: confirmGrid(open, aspects, by) }, ...sectionsOnto(plan, grid)];
}

function sectionsOnto({ sections }: Pick<Plan, 'sections'>, grid: Grid): PlanChange[] {
  const bars = barTimes(grid);
  if (bars.length < 2) return [];
  return sections.flatMap(({ id, start, confirmedBy }): PlanChange[] => {
    const at = nearest(bars, start);
    const bar = (bars[at + 1] ?? bars[at]!) - (bars[at + 1] === undefined ? bars[at - 1]! : bars[at]!);
    const line = bars[at]!;
    const moves = confirmedBy === null && line !== start && Math.abs(line - start) < bar / 2;
    return moves ? [{ collection: 'sections', id, fields: { start: line } }] : [];
  });
}
