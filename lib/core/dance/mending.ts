import type { Grid } from '../song/grid.ts';
import { lacksFor, stanceAfter } from './automaton.ts';
import { entriesOf } from './basicRun.ts';
import { countFactor, dancedBar, onBoard, suitsMetre } from './counts.ts';
import { type Break, throughBasic } from './dancedThrough.ts';
import { links } from './library/links.ts';
import type { Move } from './move.ts';
import type { Stance } from './stance.ts';

/** No break needs more: one for the feet, one for each change of hold there and back. */
const MOST_LINKS = 3;

interface Reached {
  stance: Stance;
  way: Move[];
}

/** Links that make a move follow, and the counts of the basic that are danced before them. */
export interface Mending {
  links: Move[];
  /** Counts of the board that the basic keeps; the links fill the rest up to the next move. */
  basic: number;
  /** Counts of the board that the links take, in all. */
  counts: number;
  /** There is room for them; else the next move must begin so much later. */
  fits: boolean;
}

const sizeOf = (move: Move, grid: Grid): number => onBoard(move, move.counts, grid);
const usable = (grid: Grid, from: readonly Move[]): Move[] =>
  from.filter((link) => suitsMetre(link, grid) && Number.isInteger(link.counts * countFactor(link, grid)));

/**
 * The fewest counts of links after which a move can follow, of those the fewest links; null where none lead there. Dijkstra (1959)
 * over the stances, the counts of each link its length.
 * @param exactly wants this many counts in all
 */
export function shortestLinks(
  from: Stance,
  next: Move,
  grid: Grid,
  { exactly, among = links }: { exactly?: number; among?: readonly Move[] } = {},
): Move[] | null {
  const steps = usable(grid, among);
  // By counts, then by links: each list holds what is reached after so many counts.
  const open: Reached[][] = [[{ stance: from, way: [] }]];
  const done = new Set<string>();
  for (let counts = 0; counts < open.length; counts++) {
    const here = (open[counts] ?? []).sort((a, b) => a.way.length - b.way.length);
    for (const { stance, way } of here) {
      const key = `${exactly === undefined ? '' : counts} ${keyOf(stance)}`;
      if (done.has(key)) continue;
      done.add(key);
      if ((exactly ?? counts) === counts && lacksFor(stance, next).length === 0) return way;
      if (way.length === MOST_LINKS) continue;
      for (const link of steps) {
        const after = counts + sizeOf(link, grid);
        if (after > (exactly ?? after) || lacksFor(stance, link).length > 0) continue;
        const there = open[after] ?? [];
        there.push({ stance: stanceAfter(stance, link), way: [...way, link] });
        open[after] = there;
      }
    }
  }
  return null;
}

/**
 * Counts that links may take of those before a move: first what leaves whole basics or halves of one, then whole bars, then any; of
 * equals the fewest. Nobody learns to break a basic off in its middle where it can be avoided.
 */
function lengths(gap: number, basic: Move | null, grid: Grid): number[] {
  const bar = dancedBar(grid);
  const size = basic ? sizeOf(basic, grid) / entriesOf(basic).length : 0;
  const rank = (counts: number) => (size > 0 && (gap - counts) % size === 0 ? 0 : counts % bar === 0 ? 1 : 2);
  return Array.from({ length: Math.min(gap, MOST_LINKS * bar) }, (_, i) => i + 1).sort(
    (a, b) => rank(a) - rank(b) || a - b,
  );
}

type Mended = Pick<Break, 'after' | 'gap' | 'from'> & { next: { move: Move } };

/** By the next move, by the basic, and then by all else that decides: a dance has few kinds of breaks, and checks ask often. */
const known = new WeakMap<Move, WeakMap<object, Map<string, Mending | null>>>();
const noBasic = {};

const keyOf = ({ feet, hold, position }: Stance): string => `${feet},${hold},${position}`;

/**
 * How a break is mended: links at the end of the basic before the next move. Where there is no room, those that would do it between
 * the two.
 */
export function mendingOf(broken: Mended, basic: Move | null, grid: Grid): Mending | null {
  const { after, from, gap, next } = broken;
  const { beatsPerBar, subdivision, countLevel } = grid;
  const ofMove = known.get(next.move) ?? new WeakMap<object, Map<string, Mending | null>>();
  const mendings = ofMove.get(basic ?? noBasic) ?? new Map<string, Mending | null>();
  const key = `${keyOf(after)} ${keyOf(from)} ${gap} ${beatsPerBar} ${subdivision} ${countLevel}`;
  let mending = mendings.get(key);
  if (mending === undefined) {
    mending = searched(broken, basic, grid);
    mendings.set(key, mending);
    known.set(next.move, ofMove.set(basic ?? noBasic, mendings));
  }
  return mending;
}

function searched({ after, gap, next, from }: Mended, basic: Move | null, grid: Grid): Mending | null {
  for (const counts of lengths(gap, basic, grid)) {
    const kept = gap - counts;
    const led = kept > 0 ? throughBasic(after, basic, kept, grid) : { stance: after, lacks: [] };
    if (led.lacks.length > 0) continue;
    const way = shortestLinks(led.stance, next.move, grid, { exactly: counts });
    if (way) return { links: way, basic: kept, counts, fits: true };
  }
  const way = shortestLinks(from, next.move, grid);
  if (!way) return null;
  return {
    links: way,
    basic: gap,
    counts: way.reduce((sum, link) => sum + sizeOf(link, grid), 0),
    fits: false,
  };
}
