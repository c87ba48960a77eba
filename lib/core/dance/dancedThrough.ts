import type { Grid } from '../song/grid.ts';
import { type Lack, lacksFor, stanceAfter } from './automaton.ts';
import { feetThroughBasic } from './basicRun.ts';
import { countFactor, dancedBar, onBoard } from './counts.ts';
import type { Move } from './move.ts';
import type { LaidMove } from './place.ts';
import { anyFeet, beginOf, endOf, type Stance, standing } from './stance.ts';

/** What is danced one after another: moves as they are laid, the basic wherever there is room between them. */
export interface Sequence {
  grid: Grid;
  /** Fills what no move takes; null where the board has none, and nothing is known of those counts. */
  basic: Move | null;
  /** The first step. */
  first: number;
  /** In the order in which they are danced. */
  laid: readonly LaidMove[];
}

/** Where one thing cannot follow the other at once. */
export interface Break {
  /** The count on which it shows: the next move's first, or the first of the basic between. */
  at: number;
  /** Null where nothing was danced before. */
  before: LaidMove | null;
  next: LaidMove;
  /** What cannot be begun: the next move, or the basic that leads to it. */
  of: Move;
  lacks: Lack[];
  /** How they stand then. */
  from: Stance;
  /** How they stood after the move before, and the counts from there to the next. */
  after: Stance;
  gap: number;
}

/** The hold or place changes while the basic goes on: nobody stops for it, but both must know it. */
export interface ChangeInBasic {
  at: number;
  /** Of the basic, after that move; or of the next move, before it. */
  side: 'into basic' | 'out of basic';
  laid: LaidMove;
  from: Stance;
  to: Stance;
}

export interface DancedThrough {
  /** How they stand as each move begins, by its place in the order; a move danced more than once by its first time. */
  stances: Stance[];
  breaks: Break[];
  changes: ChangeInBasic[];
  /** After the last move. */
  end: Stance;
}

const unknown: Stance = { feet: anyFeet, hold: null, position: null };

/** How one move follows another, or the first step, with so many counts of the basic between. */
export interface Joining {
  /** As the move begins. */
  stance: Stance;
  /** What keeps the basic from beginning, and what keeps the move from it. */
  ofBasic: Lack[];
  ofMove: Lack[];
  /** The hold or place changes into the basic, out of it; there is time for it. */
  intoBasic: boolean;
  outOfBasic: boolean;
}

/** The automaton from the end of one move to the beginning of another: the one step that checks and proposals share. */
export function joinOf(from: Stance, gap: number, move: Move, basic: Move | null, grid: Grid): Joining {
  const led = gap > 0 ? throughBasic(from, basic, gap, grid) : { stance: from, lacks: [] };
  const lacks = lacksFor(led.stance, move);
  const inBasic = basic !== null && gap >= dancedBar(grid);
  return {
    stance: led.stance,
    ofBasic: led.lacks,
    ofMove: inBasic ? lacks.filter((lack) => lack === 'feet') : lacks,
    intoBasic: inBasic && differs(from, beginOf(basic)),
    outOfBasic: inBasic && lacks.some((lack) => lack !== 'feet'),
  };
}

/**
 * Runs the automaton through a whole dance, the basic included: half of a box done, the other foot is free. What is not known raises no
 * break, and a break is told once, where it shows. Overlapping moves are another matter: after one nothing is known.
 */
export function dancedThrough({ grid, basic, first, laid }: Sequence): DancedThrough {
  const run: DancedThrough = { stances: [], breaks: [], changes: [], end: standing };
  let at = first;
  let stance = standing;
  let before: LaidMove | null = null;
  for (const next of laid) {
    const gap: number = next.at - at;
    const from: Stance = gap < 0 && before ? unknown : stance;
    const join = joinOf(from, gap, next.move, basic, grid);
    const about = { before, next, after: from, gap: Math.max(0, gap) };
    run.stances.push(join.stance);
    if (join.ofBasic.length > 0) run.breaks.push({ ...about, at, of: basic!, lacks: join.ofBasic, from });
    if (join.ofMove.length > 0)
      run.breaks.push({ ...about, at: next.at, of: next.move, lacks: join.ofMove, from: join.stance });
    if (join.intoBasic && before)
      run.changes.push({ at, side: 'into basic', laid: before, from, to: beginOf(basic!) });
    if (join.outOfBasic)
      run.changes.push({
        ...{ at: next.at, side: 'out of basic', laid: next },
        ...{ from: join.stance, to: beginOf(next.move) },
      });
    stance = stanceAfterLaid(join.stance, next, basic, grid);
    at = next.end;
    before = next;
  }
  run.end = stance;
  return run;
}

/**
 * How they stand after so many counts of the board with the basic between, and what keeps the basic from beginning. Short of a bar
 * there is no time to change the hold, so it stays.
 */
export function throughBasic(
  from: Stance,
  basic: Move | null,
  counts: number,
  grid: Grid,
): { stance: Stance; lacks: Lack[] } {
  if (basic === null) return { stance: unknown, lacks: [] };
  const through = counts / countFactor(basic, grid);
  const fed = feetThroughBasic(from.feet, basic, through);
  const feet = fed || feetThroughBasic(anyFeet, basic, through);
  const { hold, position } = counts >= dancedBar(grid) ? endOf(basic) : from;
  return { stance: { feet, hold, position }, lacks: fed === 0 ? ['feet'] : [] };
}

const differs = (from: Stance, to: Stance): boolean =>
  (from.hold !== null && to.hold !== null && from.hold !== to.hold) ||
  (from.position !== null && to.position !== null && from.position !== to.position);

/** After a move danced so many times: what may not follow itself has the basic between, while it is led anew. */
export function stanceAfterLaid(
  from: Stance,
  { move, times }: LaidMove,
  basic: Move | null,
  grid: Grid,
): Stance {
  const between = move.repeats ? 0 : onBoard(move, move.preparation, grid);
  let stance = stanceAfter(from, move);
  for (let i = 1; i < times; i++) {
    const led = between > 0 ? throughBasic(stance, basic, between, grid).stance : stance;
    stance = lacksFor(led, move).includes('feet') ? unknown : stanceAfter(led, move);
  }
  return stance;
}
