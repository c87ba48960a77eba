import { describe, expect, it } from 'vitest';
import { median } from '../../../lib/core/signal/statistics.ts';
import * as correct from '../../../lib/core/song/correct.ts';
import { byNobody, type Grid, grid as gridSchema } from '../../../lib/core/song/grid.ts';
import { nearest } from '../../../lib/core/song/stretches.ts';
import { recordTime, wholeMicros } from '../../../lib/core/units.ts';
import { dice } from '../../kit/synth.ts';

/** What a person set or tapped stays where it is: times are whole microseconds. Seconds. */
const STILL = 1e-6;
/** The median of eight taps lies no further from a beat: a hand's spread, and what it and the sound may be late by. Seconds. */
const MEANT = 0.1;
/** More are run by `HELD_SEEDS=1000 npx vitest run --config tests/vitest.config.ts tests/core/song/held.test.ts`. */
const SEEDS = Number(process.env.HELD_SEEDS ?? 150);
const STEPS = 7;

type Random = () => number;
const pick = <T>(random: Random, ...of: T[]): T => of[Math.floor(random() * of.length)]!;

/** Three minutes whose tempo drifts by up to 4 %, with a stop in the middle of half of them. */
function driftingGrid(random: Random): Grid {
  const period = 0.3 + 0.5 * random();
  const drift = 0.04 * random();
  const stop = random() < 0.5 ? 90 : Number.POSITIVE_INFINITY;
  const beatsPerBar = pick(random, 2 as const, 3 as const, 4 as const);
  const beats: number[] = [];
  for (let t = 1 + random(); t < 180; t += period * (1 + drift * Math.sin(t / 20))) {
    beats.push(wholeMicros(t < stop ? t : t + 6));
  }
  const first = Math.floor(random() * beatsPerBar);
  return {
    beats: beats.map(recordTime),
    bars: beats.flatMap((_, i) => (i % beatsPerBar === first ? [i] : [])),
    beatsPerBar,
    subdivision: 2,
    countLevel: 'beat',
    confirmedBy: byNobody,
  };
}

/** Two evenly drawn numbers as a normal one (Box and Muller 1958). */
const normal = (random: Random): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

/**
 * Eight taps by a hand whose spread is 25 ms, `faster` times as fast as the grid there, twice or half of it as often as it takes for a
 * hand: people tap along at intervals of some 0.2 to 1.8 s (Repp 2005). Where the grid has a stop they go on through it.
 */
function tapsOn(grid: Grid, random: Random, faster: number) {
  const at = Math.floor(random() * (grid.beats.length - 40));
  let period = (grid.beats[at + 8]! - grid.beats[at]!) / 8 / faster;
  while (period < 0.25) period *= 2;
  while (period > 1.8) period /= 2;
  return Array.from({ length: 8 }, (_, k) =>
    recordTime(Math.max(0, grid.beats[at]! + k * period + 0.025 * normal(random))),
  ).sort((a, b) => a - b);
}

const distance = (times: readonly number[], t: number): number => Math.abs(times[nearest(times, t)]! - t);
const barsOf = (grid: Grid): number[] => grid.bars.map((i) => grid.beats[i]!);

/** Which of the times is not among those of the grid any more. */
function moved(what: string, times: readonly number[], said: readonly number[]): string | undefined {
  const lost = said.find((t) => distance(times, t) > STILL);
  return lost === undefined ? undefined : `${what} at ${lost}, now ${distance(times, lost)} s off`;
}

/** By how often each is done: bars and taps are what can be contradicted. */
const CORRECTIONS = ['bar', 'bar', 'tap', 'tap', 'tap', 'twice', 'half', 'metre', 'shift', 'level'];

/** What one person has set and tapped so far, as far as nothing that they said later overrules it. */
interface Said {
  bars: number[];
  beats: number[];
}

/** One correction, and what the person has said after it. */
function step(what: string, grid: Grid, said: Said, random: Random): [Grid, Said] {
  switch (what) {
    case 'bar': {
      const at = Math.floor(random() * grid.beats.length);
      const here = grid.beats[at]!;
      const bars = said.bars.filter((t) => Math.abs(nearest(grid.beats, t) - at) >= grid.beatsPerBar);
      return [correct.barStartsHere(grid, recordTime(here), 'Ben'), { ...said, bars: [...bars, here] }];
    }
    case 'tap': {
      const taps = tapsOn(grid, random, pick(random, 1, 1, 2, 0.5, 0.7));
      const next = correct.tapAlong(grid, taps, 'Ben');
      return [next, afterTaps(grid, next, taps, said)];
    }
    case 'twice':
      return [correct.twiceAsFast(grid, 'Ben'), said];
    case 'half':
      return [correct.halfAsFast(grid, 'Ben'), { ...said, beats: [] }];
    case 'metre': {
      const [beats, parts] = pick(random, [4, 2] as const, [3, 2] as const, [2, 3] as const, [2, 2] as const);
      return [correct.metreOf(grid, beats, parts, 'Ben'), { ...said, beats: [] }];
    }
    case 'shift': {
      const ms = pick(random, -50, -10, 10, 50);
      const moved = (times: number[]) => times.map((t) => t + ms / 1000).filter((t) => t >= 0);
      return [correct.shiftBy(grid, ms, 'Ben'), { bars: moved(said.bars), beats: moved(said.beats) }];
    }
    default:
      return [correct.countLevelOf(grid, 'half'), said];
  }
}

/**
 * Taps overrule what lies in their passage, which reaches half a tapped beat and some spread beyond the outer ones, and bar lines
 * within a bar of their one. At another level, where the same beats as before are left and fewer of them, tapped beats are
 * overruled.
 */
function afterTaps(before: Grid, grid: Grid, taps: readonly number[], { bars, beats }: Said): Said {
  const margin = (taps.at(-1)! - taps[0]!) / 14 + 0.1;
  const outside = (t: number): boolean => t < taps[0]! - margin || t > taps.at(-1)! + margin;
  const one = nearest(grid.beats, taps[0]!);
  const had = new Set<number>(before.beats);
  const outer = grid.beats.filter(outside);
  const thinned = outer.length < before.beats.filter(outside).length && outer.every((t) => had.has(t));
  return {
    bars: bars.filter((t) => outside(t) && Math.abs(nearest(grid.beats, t) - one) > grid.beatsPerBar),
    beats: [
      ...(thinned ? [] : beats.filter(outside)),
      ...taps.flatMap((t, i) =>
        // A tap right after another is one that bounced.
        i > 0 && t - taps[i - 1]! < 0.12 ? [] : [grid.beats[nearest(grid.beats, t)]!],
      ),
    ],
  };
}

describe('what a person confirmed is kept', () => {
  it('by any sequence of corrections after it, unless it is overruled itself', () => {
    const wrong: string[] = [];
    for (let seed = 1; seed <= SEEDS; seed++) {
      const random = dice(seed);
      let grid = driftingGrid(random);
      let said: Said = { bars: [], beats: [] };
      const done: string[] = [];
      for (let n = 0; n < STEPS && grid.beats.length > 60 && grid.beats.length < 2000; n++) {
        const what = pick(random, ...CORRECTIONS);
        done.push(what);
        [grid, said] = step(what, grid, said, random);
        const problem =
          gridSchema.safeParse(grid).error?.message ??
          moved('bar', barsOf(grid), said.bars) ??
          moved('beat', grid.beats, said.beats);
        if (problem) {
          wrong.push(`seed ${seed}, ${done}: ${problem}`);
          break;
        }
      }
    }
    expect(wrong).toEqual([]);
  });

  it('taps have beats where they are, whatever was heard there', () => {
    const wrong: string[] = [];
    for (let seed = 1; seed <= SEEDS; seed++) {
      const random = dice(seed);
      const grid = driftingGrid(random);
      for (const faster of [1, 2, 0.5, 0.7, 3, 1 / 3]) {
        const taps = tapsOn(grid, random, faster);
        const { beats } = correct.tapAlong(grid, taps, 'Ben');
        const off = median(taps.map((t) => distance(beats, t)));
        if (off > MEANT) wrong.push(`seed ${seed}, ${faster} times as fast: ${off}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('a stop stays free when taps begin a new grid', () => {
    const even = Array.from({ length: 80 }, (_, i) =>
      recordTime(wholeMicros(i < 40 ? 0.5 * i : 8 + 0.5 * i)),
    );
    const grid: Grid = {
      ...{ beats: even, bars: [0, 4], beatsPerBar: 4, subdivision: 2 },
      ...{ countLevel: 'beat', confirmedBy: byNobody },
    };
    const taps = Array.from({ length: 8 }, (_, i) => recordTime(5 + 0.71 * i));
    const tapped = correct.tapAlong(grid, taps, 'Ben');
    expect(tapped.beats.some((t) => t > 20 && t < 27.5)).toBe(false);
    expect(tapped.beats.some((t) => t > 30)).toBe(true);
  });

  it('taps where a stop was heard add beats there and keep the heard ones around it', () => {
    const heard = Array.from({ length: 80 }, (_, i) =>
      recordTime(wholeMicros(i < 40 ? 0.5 * i : 8 + 0.5 * i)),
    );
    const grid: Grid = {
      ...{ beats: heard, bars: [0, 4], beatsPerBar: 4, subdivision: 2 },
      ...{ countLevel: 'beat', confirmedBy: byNobody },
    };
    const taps = Array.from({ length: 8 }, (_, i) => recordTime(22.02 + 0.5 * i));
    const { beats, held } = correct.tapAlong(grid, taps, 'Ben');
    expect(heard.filter((t) => !beats.includes(t))).toEqual([]);
    expect(held?.beats.map((t) => t.toFixed(2))).toEqual(taps.map((t) => t.toFixed(2)));
  });

  it('a bar line set wrongly gives way to another within a bar of it', () => {
    const beats = Array.from({ length: 40 }, (_, i) => recordTime(i));
    const grid: Grid = {
      ...{ beats, bars: [0, 4], beatsPerBar: 4, subdivision: 2 },
      ...{ countLevel: 'beat', confirmedBy: byNobody },
    };
    const wrong = correct.barStartsHere(grid, recordTime(9), 'Ben');
    const right = correct.barStartsHere(wrong, recordTime(10), 'Ben');
    expect(right.held?.bars).toEqual([10]);
    expect(right.bars.slice(0, 4)).toEqual([2, 6, 10, 14]);
    expect(correct.barStartsHere(right, recordTime(7), 'Ben').held?.bars).toEqual([7]);
    expect(correct.barStartsHere(right, recordTime(6), 'Ben').held?.bars).toEqual([6, 10]);
  });
});
