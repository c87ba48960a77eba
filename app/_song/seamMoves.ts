import type { Cut, Edit } from '@/lib/core/edit/edit.ts';
import { recordCounts } from '@/lib/core/edit/recordCounts.ts';
import { BEFORE_THE_BAR } from '@/lib/core/edit/seam.ts';
import { bad, type Result } from '@/lib/core/result.ts';
import type { Grid } from '@/lib/core/song/grid.ts';
import { type RecordTime, recordTime, wholeMicros } from '@/lib/core/units.ts';
import { checked } from './handEdit.ts';
import { barTimes } from './sectionSteps.ts';

/** A join moved by hand: where the music stops, where it goes on, or both, which keeps about as much left out. */
export type Side = 'from' | 'to' | 'both';
export type Step = 'bar' | 'count' | '10 ms';
export const STEPS: readonly Step[] = ['bar', 'count', '10 ms'];

/** Seconds. */
export const FINE = 0.01;
/** A join this near a line lies on it, seconds; where lines are close, a quarter of what is between them. */
const ON_IT = 0.06;

/** The lines that a step goes along, seconds of record time. */
export function linesFor(step: Exclude<Step, '10 ms'>, grid: Grid, duration: number): RecordTime[] {
  return step === 'bar' ? barTimes(grid) : recordCounts(grid, duration).map(({ record }) => record);
}

/** The edit with one side of a join, or both, a step later (1) or earlier (-1). What was measured of the join no longer holds. */
export function withSideMoved(
  edit: Edit,
  index: number,
  side: Side,
  step: Step,
  way: 1 | -1,
  song: { grid: Grid; duration: number },
): Result<Edit> {
  const cut = edit.cuts[index];
  if (!cut) return bad('no join', 'This join is no longer there.');
  const lines = step === '10 ms' ? [] : linesFor(step, song.grid, song.duration);
  const moved = (at: number): number | null => (step === '10 ms' ? at + way * FINE : beyond(lines, at, way));
  const from = side === 'to' ? cut.from : moved(cut.from);
  const to = side === 'from' ? cut.to : moved(cut.to);
  if (from === null || to === null) return bad('no line', `There is no ${step} further that way.`);
  return withJoinAt(edit, index, from, to, song.duration);
}

/** The edit with a join's two sides at these moments of record time. */
export function withJoinAt(
  edit: Edit,
  index: number,
  from: number,
  to: number,
  duration: number,
): Result<Edit> {
  const inside = (at: number) => recordTime(wholeMicros(Math.max(0, Math.min(duration, at))));
  const { crossfade } = edit.cuts[index]!;
  const cut: Cut = { from: inside(from), to: inside(to), crossfade };
  return checked({ ...edit, cuts: edit.cuts.with(index, cut) }, duration);
}

/** A little before the next line that way, as joins lie; null where there is none. */
function beyond(lines: readonly number[], at: number, way: 1 | -1): number | null {
  const here = at + BEFORE_THE_BAR;
  const near = nearestLine(lines, here);
  if (near < 0) return null;
  const gap = Math.abs((lines[near + 1] ?? lines[near - 1] ?? lines[near]!) - lines[near]!);
  const off = lines[near]! - here;
  const onIt = Math.abs(off) <= Math.min(ON_IT, gap / 4);
  const passed = way * off > 0;
  const next = lines[onIt || !passed ? near + way : near];
  return next === undefined ? null : next - BEFORE_THE_BAR;
}

/** Index of the nearest; -1 of none. */
export function nearestLine(lines: readonly number[], at: number): number {
  return lines.reduce((best, line, i) => {
    return best < 0 || Math.abs(line - at) < Math.abs(lines[best]! - at) ? i : best;
  }, -1);
}
