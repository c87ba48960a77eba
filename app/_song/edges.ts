import type { Edit, SongEnd } from '@/lib/core/edit/edit.ts';
import { BEFORE_THE_BAR } from '@/lib/core/edit/seam.ts';
import { bad, type Result } from '@/lib/core/result.ts';
import type { Grid } from '@/lib/core/song/grid.ts';
import { type RecordTime, recordTime, wholeMicros } from '@/lib/core/units.ts';
import { USUAL_FADE, withEnd, withStart } from './handEdit.ts';
import { FINE, linesFor, type Step, withJoinAt, withSideMoved } from './seamMoves.ts';
import { barTimes } from './sectionSteps.ts';

/** A place of an edit that is moved by hand: where the song begins, where it stops and goes on again, where it ends or fades. */
export type Edge = { kind: 'start' } | { kind: 'from' | 'to'; index: number } | { kind: 'end' };

interface Song {
  grid: Grid;
  duration: number;
}

/** All of an edit, in the order of the recording. */
export const edgesOf = ({ cuts }: Edit): Edge[] => [
  { kind: 'start' },
  ...cuts.flatMap((_, index): Edge[] => [
    { kind: 'from', index },
    { kind: 'to', index },
  ]),
  { kind: 'end' },
];

/** The line that it stands on; a join lies a little before its line. */
export function lineOf({ start, cuts, end }: Edit, edge: Edge, duration: number): RecordTime {
  if (edge.kind === 'start') return start;
  if (edge.kind === 'end') return recordTime(end.kind === 'fade' ? end.from : duration);
  return recordTime((cuts[edge.index]?.[edge.kind] ?? 0) + BEFORE_THE_BAR);
}

/** The lines that it may be put on: bar lines, and for the two ends those of the recording. */
export function linesOf(edit: Edit, edge: Edge, { grid, duration }: Song): RecordTime[] {
  return withEnds(barTimes(grid), edit, edge, duration);
}

function withEnds(lines: RecordTime[], { end }: Edit, edge: Edge, duration: number): RecordTime[] {
  if (edge.kind === 'start') return [recordTime(0), ...lines.filter((line) => line > 0)];
  if (edge.kind !== 'end') return lines;
  const last = duration - fadeLength(end);
  return [...lines.filter((line) => line <= last), recordTime(duration)];
}

const fadeLength = (end: SongEnd): number => (end.kind === 'fade' ? end.length : USUAL_FADE);

/** The edit with it on a line. A fade that is drawn to the end of the recording is none any more. */
export function withEdgeAt(edit: Edit, edge: Edge, line: RecordTime, duration: number): Result<Edit> {
  const { end, cuts } = edit;
  if (edge.kind === 'start') return withStart(edit, line, duration);
  if (edge.kind === 'end') return withEnd(edit, endAt(end, line, duration), duration);
  const cut = cuts[edge.index];
  if (!cut) return bad('no join', 'This join is no longer there.');
  const at = line - BEFORE_THE_BAR;
  const [from, to] = edge.kind === 'from' ? [at, cut.to] : [cut.from, at];
  return withJoinAt(edit, edge.index, from, to, duration);
}

/** As the recording ends, where the line is its end; else with a fade from there, as long and of the shape that it has. */
function endAt(end: SongEnd, line: RecordTime, duration: number): SongEnd {
  if (line >= duration) return { kind: 'own' };
  const from = recordTime(wholeMicros(line));
  if (end.kind === 'fade') return { ...end, from };
  return { kind: 'fade', from, length: USUAL_FADE, shape: 'linear', byHand: false };
}

/** The edit with it a step later (1) or earlier (-1). */
export function withEdgeMoved(edit: Edit, edge: Edge, step: Step, way: 1 | -1, song: Song): Result<Edit> {
  if (edge.kind === 'from' || edge.kind === 'to')
    return withSideMoved(edit, edge.index, edge.kind, step, way, song);
  const at = lineOf(edit, edge, song.duration);
  const next =
    step === '10 ms'
      ? at + way * FINE
      : beyond(withEnds(linesFor(step, song.grid, song.duration), edit, edge, song.duration), at, way);
  if (next === undefined) return bad('no line', `There is no ${step} further that way.`);
  return withEdgeAt(edit, edge, recordTime(Math.max(0, next)), song.duration);
}

/** Seconds: nearer than this to a line, something lies on it. */
const ON_IT = 0.001;

const beyond = (lines: readonly number[], at: number, way: 1 | -1): number | undefined =>
  way > 0 ? lines.find((line) => line > at + ON_IT) : lines.findLast((line) => line < at - ON_IT);
