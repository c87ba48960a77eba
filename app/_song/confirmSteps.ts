import type { PlanChange } from '@/lib/core/areas/change.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { openOf, type SongAspect } from '@/lib/core/song/confirmed.ts';
import { gridAspects } from '@/lib/core/song/grid.ts';
import { confirmGrid, signed } from '@/lib/core/song/signing.ts';

type Song = Pick<Plan, 'grid' | 'sections' | 'heard'>;

/** What of a song somebody may confirm as it is: all that is open, but not sections that are not there. */
export const confirmable = (song: Song): SongAspect[] =>
  openOf(song)
    .map(({ about }) => about)
    .filter((about) => about !== 'sections' || song.sections.length > 0);

/** Somebody says of these that they are right as they are: one step. What others have confirmed stays their word. */
export function confirmed(song: Song, aspects: readonly SongAspect[], by: string): PlanChange[] {
  const open = confirmable(song).filter((about) => aspects.includes(about));
  const ofGrid = gridAspects.filter((about) => open.includes(about));
  const changes: PlanChange[] = [];
  if (song.grid && ofGrid.length > 0)
    changes.push({ register: 'grid', value: confirmGrid(song.grid, ofGrid, by) });
  for (const { id, confirmedBy } of open.includes('sections') ? song.sections : [])
    if (confirmedBy === null)
      changes.push({ collection: 'sections', id, fields: { confirmedBy: signed(by) } });
  return changes;
}
