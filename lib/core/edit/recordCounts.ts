import { median } from '../signal/statistics.ts';
import type { CountLevel, Grid } from '../song/grid.ts';
import { type RecordTime, recordTime } from '../units.ts';

/** A count of the recording, before any edit. */
export interface RecordCount {
  record: RecordTime;
  /** Number of its bar; -1 before the first. */
  bar: number;
  inBar: number;
  pickUp: boolean;
  /** Past the last beat heard. */
  assumed: boolean;
}

/** The grid's level, or beats where its metre has no such level: thirds only in compound metre, halves only in 2 or 4. */
export function levelOf(grid: Grid): CountLevel {
  if (grid.countLevel === 'subdivision' && grid.subdivision !== 3) return 'beat';
  if (grid.countLevel === 'half' && grid.beatsPerBar === 3) return 'beat';
  return grid.countLevel;
}

const PER_BEAT: Record<CountLevel, number> = {
  subdivision: 3,
  beat: 1,
  half: 0.5,
};

/** Counts in a bar of the grid's metre. */
export const countsPerBar = (grid: Grid): number => grid.beatsPerBar * PER_BEAT[levelOf(grid)];

/**
 * All counts of a recording in order: those of its beats, then at the mean of the last eight intervals up to `duration`
 * seconds, marked as assumed. Where the grid has a gap there are no counts.
 */
export function recordCounts(grid: Grid, duration: number): RecordCount[] {
  const counts = heardCounts(grid);
  return [...counts, ...assumedCounts(counts, countsPerBar(grid), duration)];
}

function heardCounts(grid: Grid): RecordCount[] {
  const level = levelOf(grid);
  const perBar = countsPerBar(grid);
  const first = grid.bars[0] ?? grid.beats.length;
  const counts: RecordCount[] = [];
  let bar = -1;
  for (const [i, beat] of grid.beats.entries()) {
    while (bar + 1 < grid.bars.length && grid.bars[bar + 1]! <= i) bar++;
    // Beats from the bar line; before the first bar negative, as if bars went on backwards.
    const place = i - (bar < 0 ? first : grid.bars[bar]!);
    const add = (time: number, inBar: number) =>
      counts.push({
        record: recordTime(time),
        bar,
        inBar: bar < 0 ? ((inBar % perBar) + perBar) % perBar : inBar,
        pickUp: bar < 0,
        assumed: false,
      });
    if (level === 'beat') add(beat, place);
    if (level === 'half' && place % 2 === 0) add(beat, place / 2);
    if (level === 'subdivision') {
      const third = stepAfter(grid, i) / 3;
      for (let k = 0; k < 3; k++) add(beat + k * third, place * 3 + k);
    }
  }
  return counts;
}

/** Seconds from a beat to the next; across a gap or a wait, and after the last, the usual interval around it. */
function stepAfter({ beats, waits }: Grid, i: number): number {
  const usual = intervalAround(beats, i);
  const next = beats[i + 1];
  const waiting = next === undefined || next - beats[i]! > 1.75 * usual || waits?.includes(beats[i]!);
  return waiting ? usual : next - beats[i]!;
}

/** Median of the up to eight intervals around index i of an ascending list; 0 with fewer than two times. */
export function intervalAround(times: readonly number[], i: number): number {
  const from = Math.max(0, Math.min(i - 4, times.length - 9));
  const to = Math.min(times.length - 1, from + 8);
  const intervals: number[] = [];
  for (let k = from; k < to; k++) intervals.push(times[k + 1]! - times[k]!);
  return median(intervals);
}

function assumedCounts(heard: RecordCount[], perBar: number, duration: number): RecordCount[] {
  const last = heard.at(-1);
  const eighth = heard.at(-Math.min(9, heard.length));
  if (!last || !eighth || last === eighth) return [];
  const step = (last.record - eighth.record) / (Math.min(9, heard.length) - 1);
  // Thirds of a single beat lie on one moment: there is no interval to go on with.
  if (step <= 0) return [];
  const counts: RecordCount[] = [];
  let { bar, inBar } = last;
  for (let k = 1; last.record + k * step < duration; k++) {
    inBar += 1;
    if (inBar >= perBar) {
      inBar = 0;
      bar += 1;
    }
    counts.push({
      record: recordTime(last.record + k * step),
      bar,
      inBar,
      pickUp: false,
      assumed: true,
    });
  }
  return counts;
}
