import { median } from '../signal/statistics.ts';
import { type RecordTime, recordTime, wholeMicros } from '../units.ts';
import { byNobody, type CountLevel, type Grid } from './grid.ts';
import type { Listening } from './listen.ts';
import { correctedBy, signed } from './signing.ts';
import { everyNth, nearest, range, stopsOf, stretchAround, stretchesOf } from './stretches.ts';
import { beatsOf, onGrid, type TappedLevel, type TappedPulse, tappedPulse } from './taps.ts';

/**
 * Corrections of a grid. Each returns a new grid, valid by the schema; what is stored as record time does not move with it.
 * `by` is who corrects it, as they sign: they confirm what they looked at for that, which each correction says, and nothing else.
 * What they did not look at and is not as it was is open again.
 *
 * What a person pointed at stays. A bar line that somebody set, or tapped as the one, is given up only for another within a bar of
 * it, or for taps over the same passage. Tapped beats are given up for such taps too, and where somebody asks for another
 * level or other parts of a bar, which says that those beats are not what is counted.
 */

type Held = NonNullable<Grid['held']>;

/** Documents hold at most so many beats, and so many held. */
const MOST_BEATS = 8000;
const MOST_HELD = { bars: 500, beats: 2000 };

/** What was heard, as a grid that nobody has confirmed. */
export function gridFrom(heard: Pick<Listening, 'beats' | 'bars' | 'metre'>): Grid {
  const opening = new Set<number>(heard.bars);
  return {
    beats: [...heard.beats],
    bars: heard.beats.flatMap((t, i) => (opening.has(t) ? [i] : [])),
    beatsPerBar: heard.metre.beats,
    subdivision: heard.metre.subdivision,
    countLevel: 'beat',
    confirmedBy: byNobody,
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
    confirmedBy: byNobody,
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
 * (as it is, or twice, half, three times or a third as fast), that level's exact times are kept, and beats are added only where
 * taps lie in what was heard as a stop, or before or after the heard beats; otherwise an even grid through the taps replaces it.
 * Confirms the beats.
 * @param taps seconds of record time, ascending; fewer than four, or more than ten a second, change nothing
 * @param until where an even grid ends; the grid's last beat, or the last tap, unless said
 */
export function tapAlong(grid: Grid, taps: readonly RecordTime[], by: string, until?: RecordTime): Grid {
  const pulse = tappedPulse(taps);
  if (!pulse) return grid;
  const outside = notTapped(pulse);
  const held = { bars: heldBy(grid).bars.filter(outside), beats: heldBy(grid).beats.filter(outside) };
  const beats = retimed(grid, pulse, held, until).map(wholeMicros);
  if (beats.length === 0 || beats.length > MOST_BEATS) return grid;
  const tapped = [...new Set(pulse.taps.map((t) => beats[nearest(beats, t)]!))].map(recordTime);
  const first = recordTime(beats[nearest(beats, pulse.first)]!);
  const kept = {
    bars: latest([first], withoutWithinBar(beats, grid.beatsPerBar, held.bars, first), MOST_HELD.bars),
    beats: latest(tapped, held.beats, MOST_HELD.beats),
  };
  return correctedBy(by, grid, withBeats({ ...grid, held: kept }, beats, anchorsOf(grid)), 'beats');
}

function retimed(grid: Grid, pulse: TappedPulse, held: Held, until?: RecordTime): number[] {
  const level = onGrid(grid.beats, pulse);
  const heard = level ? atLevel(grid, level, held.bars) : [];
  if (level?.whole) return heard;
  const last = Math.max(grid.beats.at(-1) ?? 0, pulse.taps.at(-1)!);
  const pins = [...held.bars, ...(level ? heard.filter(notTapped(pulse)) : held.beats)];
  return evenGrid(grid, pulse, pins, level ? last : (until ?? last));
}

/** What was said now, and of the rest as much as a document holds; ascending. */
const latest = (now: readonly RecordTime[], before: readonly RecordTime[], most: number): RecordTime[] =>
  [...now, ...before].slice(0, most).sort((a, b) => a - b);

const heldBy = (grid: Grid): Held => grid.held ?? { bars: [], beats: [] };

/** Whether a time lies outside the passage that was tapped, which reaches half a beat beyond the outer taps. */
const notTapped =
  ({ first, period, taps }: TappedPulse) =>
  (t: number): boolean =>
    t < first - period / 2 || t > taps.at(-1)! + period / 2;

/** Held bar lines but for those less than a bar from the one that is said now. */
const withoutWithinBar = (
  beats: readonly number[],
  beatsPerBar: number,
  held: readonly RecordTime[],
  now: number,
): RecordTime[] => held.filter((t) => Math.abs(nearest(beats, t) - nearest(beats, now)) >= beatsPerBar);

/** Every so many of the finest beats: from the first tap, from held bar lines, and after a stop without either from its first bar. */
function atLevel(grid: Grid, { fine, every, met }: TappedLevel, held: readonly number[]): number[] {
  if (every === 1) return fine;
  const tapped = marksAt(fine, met);
  const said = marksAt(fine, held);
  const usual = marksAt(fine, anchorsOf(grid));
  return stretchesOf(fine, grid.waits).flatMap(([from, to]) => {
    const within = (i: number): boolean => i >= from && i < to;
    const own = [...said.filter(within), ...tapped.filter(within).slice(0, 1)].sort((a, b) => a - b);
    const marks = own.length > 0 ? own : usual.filter(within).slice(0, 1);
    return everyNth(from, to, every, marks).map((i) => fine[i]!);
  });
}

/** Where the times lie among the beats, ascending, each once. */
const marksAt = (beats: readonly number[], times: readonly number[]): number[] =>
  [...new Set(times.map((t) => nearest(beats, t)))].sort((a, b) => a - b);

/** An even grid through the taps and through whatever is kept; where nothing was counted before, only taps are. */
function evenGrid(grid: Grid, pulse: TappedPulse, kept: readonly number[], end: number): number[] {
  const { first, period } = pulse;
  const pins = [...beatsOf(pulse), ...kept]
    .filter((t) => t >= 0)
    .sort((a, b) => a - b)
    .filter((t, i, all) => i === 0 || t - all[i - 1]! > 1e-5);
  const beats: number[] = [];
  const start = Math.max(0, Math.min(grid.beats[0] ?? first, first));
  for (let n = Math.floor((pins[0]! - start) / period + 0.25); n > 0; n--) {
    if (pins[0]! >= n * period) beats.push(pins[0]! - n * period);
  }
  pins.forEach((pin, i) => {
    const next = pins[i + 1];
    const steps =
      next === undefined
        ? 1 + Math.floor((end - pin) / period + 0.25)
        : Math.max(1, Math.round((next - pin) / period));
    const step = next === undefined ? period : (next - pin) / steps;
    for (let n = 0; n < Math.max(1, steps); n++) beats.push(pin + n * step);
  });
  const pinned = new Set(pins);
  const free = freeOf(grid);
  return beats.filter((t) => pinned.has(t) || !free.some(([from, to]) => t > from && t < to));
}

/** What lies between beats that a stop parts, half a beat inside it. */
function freeOf({ beats, waits }: Grid): [number, number][] {
  const usual = median(beats.slice(1).map((t, i) => t - beats[i]!));
  return [...stopsOf(beats, waits)].map((i) => [beats[i - 1]! + usual / 2, beats[i]! - usual / 2]);
}

/**
 * The beat nearest to the time opens a bar, and bars are counted from it as far as the next stop or held bar line, after which an odd
 * bar is left before that; backwards likewise. Confirms the bars.
 */
export function barStartsHere(grid: Grid, time: RecordTime, by: string): Grid {
  if (grid.beats.length === 0) return grid;
  const at = nearest(grid.beats, time);
  const here = grid.beats[at]!;
  const held = heldBy(grid);
  const others = withoutWithinBar(grid.beats, grid.beatsPerBar, held.bars, here);
  const bars = latest([here], others, MOST_HELD.bars);
  const [from, to] = stretchAround(grid.beats, at, grid.waits);
  const marks = marksAt(grid.beats, bars).filter((i) => i >= from && i < to);
  const elsewhere = grid.bars.filter((i) => i < from || i >= to);
  const counted = everyNth(from, to, grid.beatsPerBar, marks);
  const next = { ...grid, bars: [...elsewhere, ...counted].sort((a, b) => a - b), held: { ...held, bars } };
  return correctedBy(by, grid, next, 'bars');
}

/** A beat between every two; bars keep their number of beats, so there are twice as many. Confirms the beats. */
export function twiceAsFast(grid: Grid, by: string): Grid {
  const stops = stopsOf(grid.beats, grid.waits);
  const beats = grid.beats.flatMap((t, i): number[] => {
    const next = grid.beats[i + 1];
    return next === undefined || stops.has(i + 1) ? [t] : [t, (t + next) / 2];
  });
  if (beats.length > MOST_BEATS) return grid;
  return correctedBy(by, grid, withBeats(grid, beats, anchorsOf(grid)), 'beats');
}

/**
 * Every second beat, the first that opens a bar and held bar lines among them; bars keep their number of beats, so there are half
 * as many. Confirms the beats.
 */
export function halfAsFast(grid: Grid, by: string): Grid {
  const held = marksAt(grid.beats, heldBy(grid).bars);
  const beats = stretchesOf(grid.beats, grid.waits).flatMap(([from, to]) => {
    const within = (i: number): boolean => i >= from && i < to;
    const own = held.filter(within);
    const marks = own.length > 0 ? own : grid.bars.filter(within).slice(0, 1);
    return everyNth(from, to, 2, marks).map((i) => grid.beats[i]!);
  });
  return correctedBy(by, grid, withBeats(grid, beats, anchorsOf(grid)), 'beats');
}

/**
 * Another metre. Where old and new bar have equally many parts (three beats of two, two beats of three), the bars stay and are
 * divided anew; otherwise the beats stay, and bars are counted anew from the first.
 * Confirms the metre.
 */
export function metreOf(grid: Grid, beats: 2 | 3 | 4, subdivision: 2 | 3, by: string): Grid {
  const changed: Grid = { ...grid, beatsPerBar: beats, subdivision };
  const level = countLevelsOf(changed).includes(grid.countLevel) ? grid.countLevel : 'beat';
  const samePart = grid.beatsPerBar * grid.subdivision === beats * subdivision && grid.beatsPerBar !== beats;
  const times = samePart ? rebarred(grid, beats) : [...grid.beats];
  return correctedBy(by, grid, withBeats({ ...changed, countLevel: level }, times, anchorsOf(grid)), 'metre');
}

/** The same bars, each divided into `beats`, odd ones into as many as they have room for; beats before the first bar are left out, an unfinished last bar is filled in step. */
function rebarred(grid: Grid, beats: number): number[] {
  const out: number[] = [];
  const stops = stopsOf(grid.beats, grid.waits);
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
    const parts = whole ? Math.max(1, Math.round((beats * (next - bar)) / grid.beatsPerBar)) : beats;
    const last = whole ? Number.POSITIVE_INFINITY : grid.beats[(next ?? grid.beats.length) - 1]!;
    for (let k = 0; k < parts; k++) {
      const t = start + (k * length) / parts;
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

/** Counted at another level, a choice that confirms nothing and opens nothing; one that this metre does not have changes nothing. */
export const countLevelOf = (grid: Grid, level: CountLevel): Grid =>
  countLevelsOf(grid).includes(level) ? { ...grid, countLevel: level } : grid;

/**
 * All beats later by `ms` milliseconds (earlier if negative); what would lie before the recording is left out. Confirms the beats;
 * bars are counted as before.
 */
export function shiftBy(grid: Grid, ms: number, by: string): Grid {
  const moved = grid.beats.map((t) => wholeMicros(t + ms / 1000));
  const lost = moved.filter((t) => t < 0).length;
  return {
    ...grid,
    beats: moved.slice(lost).map(recordTime),
    bars: grid.bars.map((i) => i - lost).filter((i) => i >= 0),
    confirmedBy: { ...grid.confirmedBy, beats: signed(by) },
    ...(grid.held && { held: { bars: shifted(grid.held.bars, ms), beats: shifted(grid.held.beats, ms) } }),
    ...(grid.waits && { waits: shifted(grid.waits, ms) }),
  };
}

const shifted = (times: readonly RecordTime[], ms: number): RecordTime[] =>
  times
    .map((t) => wholeMicros(t + ms / 1000))
    .filter((t) => t >= 0)
    .map(recordTime);

/**
 * The grid with other beats; in each stretch between stops bars are counted from what is held in it, else from the first of
 * the anchors in it, else from its first beat.
 * @param anchors seconds
 */
function withBeats(grid: Grid, times: readonly number[], anchors: readonly number[]): Grid {
  const beats = times.map(wholeMicros);
  const { held, waits, ...rest } = grid;
  // A wait goes on from the last beat that is left before it.
  const waiting = waits?.filter((t) => onOne(beats, t)).map((t) => recordTime(beats[nearest(beats, t)]!));
  const said = held && { bars: held.bars, beats: held.beats.filter((t) => onOne(beats, t)) };
  const marked = marksAt(beats, held?.bars ?? []);
  const usual = anchors.map((t) => nearest(beats, t));
  const bars = stretchesOf(beats, waiting).flatMap(([from, to]) => {
    const within = (i: number): boolean => i >= from && i < to;
    const own = marked.filter(within);
    return everyNth(from, to, grid.beatsPerBar, own.length > 0 ? own : usual.filter(within).slice(0, 1));
  });
  return {
    ...rest,
    ...(said && { held: said }),
    ...(waiting && { waits: waiting }),
    beats: beats.map(recordTime),
    bars,
  };
}

/** A beat that is still where it was tapped: beats nearer than this sound as one. Seconds. */
const STILL = 0.001;

const onOne = (beats: readonly number[], t: number): boolean =>
  Math.abs((beats[nearest(beats, t)] ?? Number.POSITIVE_INFINITY) - t) <= STILL;

const anchorsOf = (grid: Grid): number[] => grid.bars.map((i) => grid.beats[i]!);
