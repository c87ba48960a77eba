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
const usable = (grid: Grid): Move[] =>
  links.filter((link) => suitsMetre(link, grid) && Number.isInteger(link.counts * countFactor(link, grid)));

/** What chains of links lead to after so many counts, and the one after which a move follows, where somebody asked of it. */
interface After {
  reached: Reached[];
  before: WeakMap<Move, Move[] | null>;
}

/** By stance and metre: there are few of either, and whole dances ask of the same again and again. */
const explored = new Map<string, readonly After[]>();

/**
 * What chains of up to MOST_LINKS links lead to, whatever follows: by the counts that they take, of those by the fewest links. What comes
 * to the same stance after as many counts is followed once (dynamic programming, Bellman 1957).
 */
function explore(from: Stance, grid: Grid): readonly After[] {
  const { beatsPerBar, subdivision, countLevel } = grid;
  const key = `${keyOf(from)} ${beatsPerBar} ${subdivision} ${countLevel}`;
  const known = explored.get(key);
  if (known) return known;
  const steps = usable(grid);
  const open: Reached[][] = [[{ stance: from, way: [] }]];
  const all: After[] = [];
  for (let counts = 0; counts < open.length; counts++) {
    const done = new Set<string>();
    const reached: Reached[] = [];
    for (const here of (open[counts] ?? []).sort((a, b) => a.way.length - b.way.length)) {
      const { stance, way } = here;
      if (done.has(keyOf(stance))) continue;
      done.add(keyOf(stance));
      reached.push(here);
      if (way.length === MOST_LINKS) continue;
      for (const link of steps) {
        if (lacksFor(stance, link).length > 0) continue;
        const after = counts + sizeOf(link, grid);
        open[after] ??= [];
        open[after].push({ stance: stanceAfter(stance, link), way: [...way, link] });
      }
    }
    all.push({ reached, before: new WeakMap() });
  }
  explored.set(key, all);
  return all;
}

function leading({ reached, before }: After, next: Move): Move[] | null {
  const known = before.get(next);
  if (known !== undefined) return known;
  const way = reached.find(({ stance }) => lacksFor(stance, next).length === 0)?.way ?? null;
  before.set(next, way);
  return way;
}

/**
 * The fewest counts of links after which a move can follow, of those the fewest links; null where none lead there.
 * @param exactly wants this many counts in all
 */
export function shortestLinks(from: Stance, next: Move, grid: Grid, exactly?: number): Move[] | null {
  const all = explore(from, grid);
  for (const after of exactly === undefined ? all : all.slice(exactly, exactly + 1)) {
    const way = leading(after, next);
    if (way) return way;
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
  // Without a basic its size is 0, and nothing leaves whole ones.
  const rank = (counts: number) => ((gap - counts) % size === 0 ? 0 : counts % bar === 0 ? 1 : 2);
  return Array.from({ length: Math.min(gap, MOST_LINKS * bar) }, (_, i) => i + 1).sort(
    (a, b) => rank(a) - rank(b),
  );
}

type Mended = Pick<Break, 'after' | 'gap' | 'from'> & { next: { move: Move } };

const keyOf = ({ feet, hold, position }: Stance): string => `${feet},${hold},${position}`;

/**
 * How a break is mended: links at the end of the basic before the next move. Where there is no room, those that would do it between
 * the two.
 */
export function mendingOf(
  { after, gap, next, from }: Mended,
  basic: Move | null,
  grid: Grid,
): Mending | null {
  for (const counts of lengths(gap, basic, grid)) {
    const kept = gap - counts;
    const led = kept > 0 ? throughBasic(after, basic, kept, grid) : { stance: after, lacks: [] };
    if (led.lacks.length > 0) continue;
    const way = shortestLinks(led.stance, next.move, grid, counts);
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
