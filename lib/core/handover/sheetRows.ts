import type { FloorScore } from '../edit/score.ts';
import type { FloorTime } from '../units.ts';

/** More counts than this in one row no eye can count. */
export const MOST_COUNTS = 32;
/** On a narrow page a row holds so many bars. */
export const NARROW_BARS = 4;

/** A row of the sheet. Its counts are `first` to `first + counts - 1` of the floor score. */
export interface SheetRow {
  id: string;
  /** phrase: a phrase or a part of a long one. loose: counts of no phrase. free: music without counts. */
  kind: 'phrase' | 'loose' | 'free';
  /** Index into the score's phrases; null for the other kinds. */
  phrase: number | null;
  /** Index into the score's sections; null before the first. */
  section: number | null;
  /** It opens its phrase; the rows after it in the same phrase do not. */
  opens: boolean;
  first: number;
  counts: number;
  floor: FloorTime;
  end: FloorTime;
}

/** Whole bars that fit in a row, in counts. At least one bar, however many counts that has. */
export function rowCapacity(countsPerBar: number, narrow: boolean): number {
  const most = narrow ? Math.min(MOST_COUNTS, NARROW_BARS * countsPerBar) : MOST_COUNTS;
  return Math.max(1, Math.floor(most / countsPerBar)) * countsPerBar;
}

/**
 * The rows of a floor score in the order in which they are heard: each phrase a row, a longer one cut into rows of whole
 * bars and nearly equal length; counts of no phrase and sections without counts have rows of their own.
 * @param capacity most counts in a row, from `rowCapacity`
 */
export function rowsOf(score: FloorScore, capacity: number): SheetRow[] {
  const rows: SheetRow[] = [];
  for (const phrase of score.phrases) {
    const { index, section, first, counts } = phrase;
    rows.push(...cutUp(score, { kind: 'phrase', phrase: index, section, first, counts }, capacity));
  }
  for (const { first, counts } of looseRuns(score)) {
    const section = sectionBefore(score, first);
    rows.push(...cutUp(score, { kind: 'loose', phrase: null, section, first, counts }, capacity));
  }
  for (const { index, id, first, counts, floor, end } of score.sections) {
    if (counts > 0) continue;
    rows.push({
      id: `free-${id}`,
      kind: 'free',
      phrase: null,
      section: index,
      opens: true,
      ...{ first, counts, floor, end },
    });
  }
  return rows.sort((a, b) => a.floor - b.floor || a.first - b.first);
}

type Stretch = Pick<SheetRow, 'kind' | 'phrase' | 'section' | 'first' | 'counts'>;

function cutUp(score: FloorScore, stretch: Stretch, capacity: number): SheetRow[] {
  const bars = Math.ceil(stretch.counts / score.countsPerBar);
  const parts = Math.max(1, Math.ceil(stretch.counts / capacity));
  const size = Math.ceil(bars / parts) * score.countsPerBar;
  const rows: SheetRow[] = [];
  for (let done = 0; done < stretch.counts; done += size) {
    const first = stretch.first + done;
    const counts = Math.min(size, stretch.counts - done);
    const { floor } = score.counts[first]!;
    rows.push({
      ...stretch,
      id: `${stretch.kind}-${first}`,
      opens: done === 0,
      first,
      counts,
      floor,
      end: endOf(score, first + counts - 1),
    });
  }
  return rows;
}

/** A count ends where the next one begins, unless the counts stop there for a while. */
function endOf({ counts, interval, length }: FloorScore, last: number): FloorTime {
  const { floor } = counts[last]!;
  const next = counts[last + 1]?.floor ?? Number.POSITIVE_INFINITY;
  return Math.min(length, next - floor < 1.5 * interval ? next : floor + interval) as FloorTime;
}

/** Stretches of counts that belong to no phrase: pick-ups, and what rings on after the last bar. */
function looseRuns(score: FloorScore): { first: number; counts: number }[] {
  const runs: { first: number; counts: number }[] = [];
  for (const { index, phrase } of score.counts) {
    if (phrase >= 0) continue;
    const last = runs.at(-1);
    if (last && last.first + last.counts === index) last.counts += 1;
    else runs.push({ first: index, counts: 1 });
  }
  return runs;
}

function sectionBefore(score: FloorScore, at: number): number | null {
  const floor = score.counts[at]!.floor;
  return score.sections.findLast((section) => section.floor <= floor)?.index ?? null;
}

/** Counts that the widest row holds: all rows share one scale, so that a short phrase is a short row. */
export const columnsOf = (rows: readonly SheetRow[]): number =>
  rows.reduce((most, row) => Math.max(most, row.counts), 1);

/** Index of the row that holds a count; -1 when none does. */
export const rowOf = (rows: readonly SheetRow[], at: number): number =>
  rows.findIndex((row) => at >= row.first && at < row.first + row.counts);

/** The part of a stretch of counts (half open, fractions allowed) that lies in a row. */
export interface Segment {
  /** Index of the row. */
  row: number;
  from: number;
  to: number;
  /** The stretch begins here, and ends here. */
  begins: boolean;
  finishes: boolean;
}

/** A stretch cut at the rows' ends. What goes on past the last count stays with the last row, up to `over` counts. */
export function segmentsOf(rows: readonly SheetRow[], from: number, to: number, over = 0): Segment[] {
  const last = rows.findLastIndex((row) => row.counts > 0);
  return rows.flatMap((row, i) => {
    const end = row.first + row.counts + (i === last ? over : 0);
    if (row.counts === 0 || to <= from || from >= end || to <= row.first) return [];
    const begins = from >= row.first;
    return [{ row: i, from: Math.max(from, row.first), to: Math.min(to, end), begins, finishes: to <= end }];
  });
}

/** A floor time on the axis of counts, with fractions; outside of the counts it goes on at the usual interval. */
export function countAtTime(score: FloorScore, at: number): number {
  const { counts, interval } = score;
  const first = counts[0];
  const last = counts.at(-1);
  if (!first || !last) return 0;
  if (at <= first.floor) return (at - first.floor) / (interval || 1);
  if (at >= last.floor) return last.index + (at - last.floor) / (interval || 1);
  let low = 0;
  let high = counts.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (counts[middle]!.floor <= at) low = middle;
    else high = middle;
  }
  const here = counts[low]!;
  return low + (at - here.floor) / (counts[high]!.floor - here.floor);
}

/** The count of a row under a place across it, from 0 (its left end) to 1 (the right end of the widest row). */
export function countUnder(row: SheetRow, columns: number, share: number): number {
  const at = row.first + Math.floor(share * columns);
  return Math.max(row.first, Math.min(row.first + row.counts - 1, at));
}
