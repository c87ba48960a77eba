import type { SongPlan } from '../../../lib/core/edit/floorScore.ts';
import { byNobody, type Grid } from '../../../lib/core/song/grid.ts';
import type { Section, SectionKind } from '../../../lib/core/song/section.ts';
import { recordTime, wholeMicros } from '../../../lib/core/units.ts';

/** An even grid: `bars` bars from `offset` seconds at `tempo` beats a minute. */
export function evenGrid(
  tempo: number,
  beatsPerBar: 2 | 3 | 4,
  bars: number,
  more: Partial<Grid> = {},
): Grid {
  return gridFrom(tempo, beatsPerBar, bars, 0, more);
}

export function gridFrom(
  tempo: number,
  beatsPerBar: 2 | 3 | 4,
  bars: number,
  offset: number,
  more: Partial<Grid> = {},
): Grid {
  const beat = 60 / tempo;
  return {
    beats: Array.from({ length: bars * beatsPerBar }, (_, i) => recordTime(wholeMicros(offset + i * beat))),
    bars: Array.from({ length: bars }, (_, i) => i * beatsPerBar),
    beatsPerBar,
    subdivision: 2,
    countLevel: 'beat',
    confirmedBy: byNobody,
    ...more,
  };
}

export type Part = [kind: SectionKind, bars: number, like: string];

/** Sections laid end to end from the grid's first bar, `bars` each. */
export function sectionsOf(grid: Grid, parts: Part[]): Section[] {
  let bar = 0;
  return parts.map(([kind, bars, like], i) => {
    const start = grid.beats[grid.bars[bar]!]!;
    bar += bars;
    return { id: `s${i}`, start, kind, like, name: '', phraseBars: null, confirmedBy: null };
  });
}

export const NINE: Part[] = [
  ['intro', 8, 'A'],
  ['verse', 16, 'B'],
  ['pre-chorus', 8, 'C'],
  ['chorus', 16, 'D'],
  ['verse', 16, 'B'],
  ['pre-chorus', 8, 'C'],
  ['chorus', 16, 'D'],
  ['bridge', 8, 'E'],
  ['chorus', 16, 'D'],
];

/** A song of parts at an even tempo, with a tail of `tail` seconds after the last bar. */
export function songOfParts(parts: Part[], tempo: number, beatsPerBar: 3 | 4 = 4, tail = 4): SongPlan {
  const bars = parts.reduce((sum, [, n]) => sum + n, 0);
  const grid = evenGrid(tempo, beatsPerBar, bars);
  const end = wholeMicros((bars * beatsPerBar * 60) / tempo);
  return {
    grid,
    sections: sectionsOf(grid, parts),
    phraseBars: 8,
    duration: end + tail,
    lastSound: end + tail / 2,
  };
}
