import { type RecordTime, recordTime, wholeMicros } from '../units.ts';
import type { CountLevel, Grid } from './grid.ts';
import type { Listening } from './listen.ts';
import { nearest, range, stopsOf, stretchAround, stretchesOf } from './stretches.ts';
import { onGrid, tappedPulse } from './taps.ts';

/**
 * Corrections of a grid. Each returns a new grid, valid by the schema, which nobody has confirmed yet; what is stored as record
 * time does not move with it.
 */

/** Documents hold at most so many beats. */
const MOST_BEATS = 8000;

/** What was heard, as a grid that nobody has confirmed. */
export function gridFrom(heard: Pick<Listening, 'beats' | 'bars' | 'metre'>): Grid {
  const opening = new Set<number>(heard.bars);
  return {
    beats: [...heard.beats],
    bars: heard.beats.flatMap((t, i) => (opening.has(t) ? [i] : [])),
    beatsPerBar: heard.metre.beats,
    subdivision: heard.metre.subdivision,
    countLevel: 'beat',
    confirmedBy: null,
  };
}

/**
 * From annotated beats: seconds, and each one's place in the bar from 1. Bars counted in six, nine or twelve are compound: every
 * third place is a beat. Bars of one or of more than four beats are counted in the nearest of two, three and four.
 */
export function gridFromBeats(
  times: readonly number[],
  positions: readonly number[],
  subdivision: 2 | 3 = 2,
): Grid {
  const longest = usualBar(positions);
  const compound = longest === 6 || longest === 9 || longest === 12;
  const kept = times
    .map((time, i) => ({ time: wholeMicros(time), place: positions[i] ?? 0 }))
    .filter(({ place }) => !compound || (place - 1) % 3 === 0)
    .sort((a, b) => a.time - b.time)
    .filter(({ time }, i, all) => time >= 0 && (i === 0 || time > all[i - 1]!.time));
  const beatsPerBar = Math.min(4, Math.max(2, compound ? longest / 3 : longest)) as 2 | 3 | 4;
  return {
    beats: kept.map(({ time }) => recordTime(time)),
    bars: kept.flatMap(({ place }, i) => (place === 1 ? [i] : [])),
    beatsPerBar,
    subdivision: compound ? 3 : subdivision,
    countLevel: 'beat',
    confirmedBy: null,
  };
}

/** The commonest highest place of a bar; 4 where there is none. */
function usualBar(positions: readonly number[]): number {
  const counts = new Map<number, number>();
  positions.forEach((place, i) => {
    if (i + 1 < positions.length && positions[i + 1] === 1) counts.set(place, (counts.get(place) ?? 0) + 1);
  });
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? 4;
}

/**
 * Somebody tapped the beats, eight taps or more, beginning on a one. Where the heard grid has a level that agrees with the taps
 * (as it is, or twice, half, three times or a third as fast), that level's exact times are kept and only level and bars change;
 * otherwise an even grid through the taps replaces it.
 * @param taps seconds of record time, ascending; fewer than four change nothing
 * @param until where an even grid ends; the grid's last beat, or the last tap, unless said
 */
export function tapAlong(grid: Grid, taps: readonly RecordTime[], until?: RecordTime): Grid {
  const pulse = tappedPulse(taps);
  if (!pulse) return grid;
  const end = until ?? Math.max(grid.beats.at(-1) ?? 0, taps.at(-1)!);
  const start = Math.min(grid.beats[0] ?? taps[0]!, taps[0]!);
  const beats = onGrid(grid.beats, pulse) ?? evenly(pulse, start, end);
  const first = nearest(beats, pulse.first);
  return withBeats(grid, beats, [first]);
}

function evenly({ first, period }: { first: number; period: number }, start: number, end: number): number[] {
  const beats: number[] = [];
  const before = Math.floor((first - Math.max(0, start)) / period + 0.25);
  for (let n = -before; first + n * period <= end + 0.25 * period && beats.length < MOST_BEATS; n++) {
    if (first + n * period >= 0) beats.push(first + n * period);
  }
  return beats;
}

/** The beat nearest to the time opens a bar, and so does every bar's length before and after it, as far as the next stop. */
export function barStartsHere(grid: Grid, time: RecordTime): Grid {
  if (grid.beats.length === 0) return grid;
  const at = nearest(grid.beats, time);
  const [from, to] = stretchAround(grid.beats, at);
  const elsewhere = grid.bars.filter((i) => i < from || i >= to);
  const here = range(from, to).filter((i) => (i - at) % grid.beatsPerBar === 0);
  return { ...grid, bars: [...elsewhere, ...here].sort((a, b) => a - b), confirmedBy: null };
}

/** A beat between every two; bars keep their number of beats, so there are twice as many. */
export function twiceAsFast(grid: Grid): Grid {
  const stops = stopsOf(grid.beats);
  const beats = grid.beats.flatMap((t, i): number[] => {
    const next = grid.beats[i + 1];
    return next === undefined || stops.has(i + 1) ? [t] : [t, (t + next) / 2];
  });
  if (beats.length > MOST_BEATS) return grid;
  return withBeats(
    grid,
    beats,
    anchorsOf(grid).map((t) => nearest(beats, t)),
  );
}

/** Every second beat, those that open a bar among them; bars keep their number of beats, so there are half as many. */
export function halfAsFast(grid: Grid): Grid {
  const beats: number[] = [];
  for (const [from, to] of stretchesOf(grid.beats)) {
    const anchor = grid.bars.find((i) => i >= from && i < to) ?? from;
    for (let i = from; i < to; i++) if ((i - anchor) % 2 === 0) beats.push(grid.beats[i]!);
  }
  return withBeats(
    grid,
    beats,
    anchorsOf(grid).map((t) => nearest(beats, t)),
  );
}

/**
 * Another metre. Where old and new bar have equally many parts (three beats of two, two beats of three), the bars stay and are
 * divided anew; otherwise the beats stay, and bars are counted anew from the first.
 */
export function metreOf(grid: Grid, beats: 2 | 3 | 4, subdivision: 2 | 3): Grid {
  const changed: Grid = { ...grid, beatsPerBar: beats, subdivision };
  const level = countLevelsOf(changed).includes(grid.countLevel) ? grid.countLevel : 'beat';
  const samePart = grid.beatsPerBar * grid.subdivision === beats * subdivision && grid.beatsPerBar !== beats;
  const times = samePart ? rebarred(grid, beats) : [...grid.beats];
  return withBeats(
    { ...changed, countLevel: level },
    times,
    anchorsOf(grid).map((t) => nearest(times, t)),
  );
}

/** The same bars, each divided into `beats`; beats before the first bar are left out, an unfinished last bar is filled in step. */
function rebarred(grid: Grid, beats: number): number[] {
  const out: number[] = [];
  const stops = stopsOf(grid.beats);
  grid.bars.forEach((bar, n) => {
    const next = grid.bars[n + 1];
    const start = grid.beats[bar]!;
    const whole = next !== undefined && !range(bar + 1, next + 1).some((i) => stops.has(i));
    const previous = grid.bars[n - 1];
    const length = whole
      ? grid.beats[next]! - start
      : previous === undefined
        ? 0
        : start - grid.beats[previous]!;
    const last = whole ? Number.POSITIVE_INFINITY : grid.beats[(next ?? grid.beats.length) - 1]!;
    for (let k = 0; k < beats; k++) {
      const t = start + (k * length) / beats;
      if (k === 0 || (length > 0 && t <= last + 1e-6)) out.push(t);
    }
  });
  return out;
}

/** Levels at which a grid may be counted: thirds of a beat only in compound metres, every second beat only in two or four. */
export const countLevelsOf = (grid: Pick<Grid, 'beatsPerBar' | 'subdivision'>): CountLevel[] => [
  ...(grid.subdivision === 3 ? (['subdivision'] as const) : []),
  'beat',
  ...(grid.beatsPerBar !== 3 ? (['half'] as const) : []),
];

/** Counted at another level; one that this metre does not have changes nothing. */
export const countLevelOf = (grid: Grid, level: CountLevel): Grid =>
  countLevelsOf(grid).includes(level) ? { ...grid, countLevel: level, confirmedBy: null } : grid;

/** All beats later by `ms` milliseconds (earlier if negative); what would lie before the recording is left out. */
export function shiftBy(grid: Grid, ms: number): Grid {
  const moved = grid.beats.map((t) => wholeMicros(t + ms / 1000));
  const lost = moved.filter((t) => t < 0).length;
  return {
    ...grid,
    beats: moved.slice(lost).map(recordTime),
    bars: grid.bars.map((i) => i - lost).filter((i) => i >= 0),
    confirmedBy: null,
  };
}

/** Confirmed by somebody; an empty name leaves it unconfirmed. */
export const confirmGrid = (grid: Grid, name: string): Grid => ({
  ...grid,
  confirmedBy: name.trim() === '' ? null : name.trim().slice(0, 120),
});

/** The grid with other beats; in each stretch between stops bars are counted from the first of `anchors` in it, else from its first beat. */
function withBeats(grid: Grid, times: readonly number[], anchors: readonly number[]): Grid {
  const beats = times.map(wholeMicros);
  const bars = stretchesOf(beats).flatMap(([from, to]) => {
    const anchor = anchors.find((i) => i >= from && i < to) ?? from;
    return range(from, to).filter((i) => (i - anchor) % grid.beatsPerBar === 0);
  });
  return { ...grid, beats: beats.map(recordTime), bars, confirmedBy: null };
}

const anchorsOf = (grid: Grid): number[] => grid.bars.map((i) => grid.beats[i]!);
