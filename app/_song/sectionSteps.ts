import type { PlanChange } from '@/lib/core/areas/change.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { inOrder } from '@/lib/core/edit/sectionNames.ts';
import type { Grid } from '@/lib/core/song/grid.ts';
import type { Section } from '@/lib/core/song/section.ts';
import { signed } from '@/lib/core/song/signing.ts';
import type { RecordTime } from '@/lib/core/units.ts';

/**
 * Corrections of sections, each one step of change. Whoever puts a start where it belongs confirms that section, and no other.
 */
interface Song extends Pick<Plan, 'grid' | 'sections'> {
  /** Who changes it, as they sign. */
  by: string;
}

/** Times of the bar lines, ascending. */
export const barTimes = (grid: Grid): RecordTime[] => grid.bars.map((i) => grid.beats[i]!);

/** Index of the bar whose line is nearest. */
export function nearestBar(grid: Grid, at: number): number {
  const bars = barTimes(grid);
  let best = 0;
  for (let i = 1; i < bars.length; i++) {
    if (Math.abs(bars[i]! - at) < Math.abs(bars[best]! - at)) best = i;
  }
  return best;
}

/** Another kind, name, phrase length or letter. */
export const renamed = (
  id: string,
  fields: Partial<Pick<Section, 'kind' | 'name' | 'phraseBars' | 'like'>>,
): PlanChange[] => [{ collection: 'sections', id, fields }];

/** It begins where it says. */
export const startConfirmed = ({ by }: Song, id: string): PlanChange[] => [
  { collection: 'sections', id, fields: { confirmedBy: signed(by) } },
];

/** Moves a start by bars; nothing where it would pass a neighbour or leave the song. */
export function startMoved(song: Song, id: string, bars: number): PlanChange[] {
  const sections = inOrder(song.sections);
  const at = sections.findIndex((section) => section.id === id);
  const here = sections[at];
  if (!song.grid || !here) return [];
  const start = barTimes(song.grid)[nearestBar(song.grid, here.start) + bars];
  const before = sections[at - 1]?.start ?? -1;
  const after = sections[at + 1]?.start ?? Number.POSITIVE_INFINITY;
  if (start === undefined || start <= before || start >= after) return [];
  return [{ collection: 'sections', id, fields: { start, confirmedBy: signed(song.by) } }];
}

/** Splits a section so that a new one begins so many bars after its start; nothing where that is not inside it. */
export function split(song: Song, id: string, bars: number, newId: string): PlanChange[] {
  const sections = inOrder(song.sections);
  const at = sections.findIndex((section) => section.id === id);
  const here = sections[at];
  if (!song.grid || !here || bars < 1) return [];
  const start = barTimes(song.grid)[nearestBar(song.grid, here.start) + bars];
  const after = sections[at + 1]?.start ?? Number.POSITIVE_INFINITY;
  if (start === undefined || start >= after) return [];
  const { kind, phraseBars } = here;
  const fields = { start, kind, phraseBars, like: '', name: '', confirmedBy: signed(song.by) };
  return [{ collection: 'sections', id: newId, fields }];
}

/** Where nobody heard a form: one section from the first bar on, to be split. */
export function firstSection(song: Pick<Song, 'grid' | 'sections'>, id: string): PlanChange[] {
  const start = song.grid && barTimes(song.grid)[0];
  if (start === undefined || start === null || song.sections.length > 0) return [];
  const fields = { start, kind: 'verse' as const, like: '', name: '', phraseBars: null, confirmedBy: null };
  return [{ collection: 'sections', id, fields }];
}

/** Joins a section to the one before it. */
export function joined(song: Pick<Song, 'sections'>, id: string): PlanChange[] {
  const at = inOrder(song.sections).findIndex((section) => section.id === id);
  return at < 1 ? [] : [{ collection: 'sections', id, fields: null }];
}

export const barWords = (bars: number): string => `${bars} ${bars === 1 ? 'bar' : 'bars'}`;

/** Whole bars of each section, in order. */
export function barsOf(song: Pick<Plan, 'grid' | 'sections'>): Map<string, number> {
  const sections = inOrder(song.sections);
  if (!song.grid) return new Map();
  const { grid } = song;
  const edges = sections.map(({ start }) => nearestBar(grid, start));
  return new Map(sections.map(({ id }, i) => [id, (edges[i + 1] ?? grid.bars.length) - edges[i]!]));
}
