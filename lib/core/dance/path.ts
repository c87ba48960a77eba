import type { Grid } from '../song/grid.ts';
import { lacksFor, stanceAfter } from './automaton.ts';
import { type Begun, beginningsOf, feetThroughBasic } from './basicRun.ts';
import { countFactor, onBoard } from './counts.ts';
import type { Sequence } from './dancedThrough.ts';
import type { Move } from './move.ts';
import { anyFeet, beginOf, mirroredSet, type Stance, standing } from './stance.ts';
import type { DanceStep } from './step.ts';

/** Metres of a usual step in hold: common practice, no source; a setting. */
export const usualStride = 0.5;
/**
 * What nobody knows of a dance: twice its standard deviation; common practice, no source. Where a step goes, of the
 * stride; how far a turn turns, of itself (who sees the room corrects it, so rather too much than too little); the stride, of the usual
 * one, until somebody sets it; where an untold move goes, of its room, and of nothing at all, metres.
 */
const STEP_OFF = 0.15;
const TURN_OFF = 0.15;
const STRIDE_OFF = 0.2;
const UNTOLD_OFF = 0.5;
const NOTHING_TOLD = 1;
/** Half a turn either way: nobody knows how they face. */
const ANY_WAY = 4;
/** Counts between two places of the path. */
const GRAIN = 0.5;
const EIGHTH = Math.PI / 4;

/** Where the couple's middle is, and which way the lead faces. */
export interface Place {
  /** Counts of the board's level from the first step, in halves. */
  at: number;
  /** Metres to the right of the first step and ahead of it, as the lead faced then. */
  x: number;
  y: number;
  /** Eighths of a turn to the right from how the lead faced then. */
  facing: number;
  /** The middle lies within so many metres of it, and the lead faces within so many eighths of that, in about nine dances of ten. */
  within: number;
  aside: number;
}

/** How sure a place is: variances and covariances of x, y and the facing (in radians, to the right), times four as the figures above are doubled. */
interface Off {
  xx: number;
  xy: number;
  yy: number;
  xf: number;
  yf: number;
  ff: number;
}
interface Here {
  at: number;
  x: number;
  y: number;
  facing: number;
  off: Off;
}
const sure: Off = { xx: 0, xy: 0, yy: 0, xf: 0, yf: 0, ff: 0 };

/** Travel of steps, one after another, in the frame in which the first begins: strides, and eighths of turn. */
export function travelOf(steps: readonly DanceStep[]): { along: number; side: number; turn: number } {
  const start: Here = { at: 0, x: 0, y: 0, facing: 0, off: sure };
  const end = steps.reduce<Here>((here, step) => stepped(here, step, 1), start);
  return { along: end.y, side: end.x, turn: end.facing };
}

const inOrder = new WeakMap<Move, readonly DanceStep[]>();

/** What the lead takes part in, in order: that moves the couple's middle. */
export function leadSteps(move: Move): readonly DanceStep[] {
  const before = inOrder.get(move);
  if (before) return before;
  const steps = (move.steps ?? [])
    .filter(({ who }) => who !== 'follow')
    .toSorted((a, b) => a.begins - b.begins);
  inOrder.set(move, steps);
  return steps;
}

/** What is `x` to the right and `y` ahead for who has turned so many eighths to the right. */
export function turned(x: number, y: number, eighths: number): { x: number; y: number } {
  const angle = eighths * EIGHTH;
  return {
    x: x * Math.cos(angle) + y * Math.sin(angle),
    y: y * Math.cos(angle) - x * Math.sin(angle),
  };
}

/**
 * One step on: its place is told as the lead faces when it begins, and the turn comes with it. What is not sure is carried on as in
 * dead reckoning, to first order (Smith & Cheeseman 1986): who faces elsewhere than told goes elsewhere with each step.
 */
function stepped({ at, x, y, facing, off }: Here, { where, turn }: DanceStep, stride: number): Here {
  const goes = turned(where.side * stride, where.along * stride, facing);
  const { x: gx, y: gy } = goes;
  const step = STEP_OFF * STEP_OFF * (gx * gx + gy * gy);
  return {
    at,
    x: x + gx,
    y: y + gy,
    facing: facing + turn,
    off: {
      xx: off.xx + 2 * gy * off.xf + gy * gy * off.ff + step,
      xy: off.xy + gy * off.yf - gx * off.xf - gx * gy * off.ff,
      yy: off.yy - 2 * gx * off.yf + gx * gx * off.ff + step,
      xf: off.xf + gy * off.ff,
      yf: off.yf - gx * off.ff,
      ff: off.ff + (TURN_OFF * turn * EIGHTH) ** 2,
    },
  };
}

/** With these feet free, in whatever hold. */
const freely = (feet: number): Stance => ({ feet, hold: null, position: null });

const mirroredStep = ({ where, turn, ...rest }: DanceStep): DanceStep => ({
  ...rest,
  where: { along: where.along, side: -where.side },
  turn: -turn,
});

/**
 * The path of a dance: a place for each half count from the first step to the end of the last move, the basic between the moves
 * danced on and on. A step arrives with its own count. Which foot is free decides whether a figure is danced mirrored, and in which
 * half the basic is begun. A move that tells no steps leaves the couple where they were, as far as anybody knows: the places after it
 * are the less certain. Of moves that overlap the later one cuts the earlier one short.
 * @param stride metres of a step; null where nobody has set it
 * @param until the count before which the basic goes on after the last move
 */
export function pathOf(
  { grid, basic, first, laid }: Sequence,
  stride: number | null = null,
  until: number = Number.NEGATIVE_INFINITY,
): Place[] {
  const from = Math.min(first, laid[0]?.at ?? first);
  const walker = new Walker(grid, basic, stride ?? usualStride, from - first);
  let at: number = from;
  for (const next of laid) {
    if (next.at > at) walker.goBasic(next.at - at, next.move);
    else if (next.at < at) walker.cutAt(next.at - first);
    const between = next.move.repeats ? 0 : onBoard(next.move, next.move.preparation, grid);
    for (let i = 0; i < next.times; i++) {
      if (i > 0 && between > 0) walker.goBasic(between, next.move);
      walker.goMove(next.move);
    }
    at = next.end;
  }
  if (until > at) walker.goBasic(until - at, null);
  return walker.places.map(({ at: count, x, y, facing, off }) => ({
    ...{ at: count, x, y, facing },
    within: Math.hypot(bandOf(off), stride === null ? STRIDE_OFF * Math.hypot(x, y) : 0),
    aside: Math.min(ANY_WAY, Math.sqrt(off.ff) / EIGHTH),
  }));
}

/** The place of a path at so many counts from the first step; its nearest end before or after. */
export function whereAt<P extends Pick<Place, 'at'>>(path: readonly P[], at: number): P {
  const i = Math.round((at - path[0]!.at) / GRAIN);
  return path[Math.max(0, Math.min(path.length - 1, i))]!;
}

/** The longer half axis of the ellipse in which a place lies. */
const bandOf = ({ xx, xy, yy }: Off): number =>
  Math.sqrt(Math.max(0, (xx + yy) / 2 + Math.hypot((xx - yy) / 2, xy)));

/** Dances figures one after another, and keeps where they are and which feet are free. */
class Walker {
  readonly places: Here[];
  private feet = standing.feet;

  constructor(
    private readonly grid: Grid,
    private readonly basic: Move | null,
    private readonly stride: number,
    at: number,
  ) {
    this.places = [{ at, x: 0, y: 0, facing: 0, off: sure }];
  }

  /** The basic, for so many counts of the board: whole ones, and the beginning of another; begun so that what is next can follow. */
  goBasic(counts: number, next: Move | null): void {
    const { basic, grid } = this;
    if (!basic?.steps) {
      this.goUntold(counts, basic ? UNTOLD_OFF * basic.room : NOTHING_TOLD);
      this.feet = anyFeet;
      return;
    }
    const factor = countFactor(basic, grid);
    const after = ({ pair, entry }: Begun) =>
      feetThroughBasic(1 << pair, basic, counts / factor, entry) || anyFeet;
    const ways = beginningsOf(basic, this.feet);
    const leads = (way: Begun) => next !== null && !lacksFor(freely(after(way)), next).includes('feet');
    const way = ways.find(leads) ?? ways[0] ?? beginningsOf(basic, anyFeet)[0];
    const size = onBoard(basic, basic.counts, grid);
    let phase = (way?.entry ?? 0) * factor;
    let isMirrored = way?.isMirrored ?? false;
    for (let left = counts; left > 0; ) {
      const part = Math.min(left, size - phase);
      this.goSteps(basic, phase, part, isMirrored);
      left -= part;
      phase = 0;
      isMirrored = isMirrored !== (way?.changesFoot ?? false);
    }
    this.feet = way ? after(way) : anyFeet;
  }

  goMove(move: Move): void {
    const counts = onBoard(move, move.counts, this.grid);
    const told = this.feet & beginOf(move).feet;
    if (move.steps) {
      const isMirrored = told === 0 && move.eitherFoot === true;
      this.goSteps(move, 0, counts, isMirrored && (this.feet & mirroredSet(beginOf(move).feet)) !== 0);
    } else this.goUntold(counts, UNTOLD_OFF * move.room);
    this.feet = stanceAfter(freely(told || this.feet), move).feet;
  }

  /** What was to come after this is not danced. */
  cutAt(at: number): void {
    while (this.places.length > 1 && this.here.at > at) this.places.pop();
    this.feet = anyFeet;
  }

  private get here(): Here {
    return this.places.at(-1)!;
  }

  private goUntold(counts: number, off: number): void {
    const { here } = this;
    const within = off * off;
    // Whatever is unknown of the facing already cannot become more.
    const facing = Math.max(here.off.ff, (ANY_WAY * EIGHTH) ** 2);
    const unsure = { ...here.off, xx: here.off.xx + within, yy: here.off.yy + within, ff: facing };
    for (let t = GRAIN; t <= counts + 1e-9; t += GRAIN)
      this.places.push({ ...here, off: unsure, at: here.at + t });
  }

  /** So many counts of a figure, from one of its counts on. */
  private goSteps(move: Move, phase: number, counts: number, isMirrored: boolean): void {
    const factor = countFactor(move, this.grid);
    const steps = leadSteps(move);
    const from = this.here.at;
    let { here } = this;
    let taken = steps.findIndex(({ begins }) => begins * factor > phase - 1e-9);
    if (taken < 0) taken = steps.length;
    for (let t = GRAIN; t <= counts + 1e-9; t += GRAIN) {
      while (taken < steps.length && steps[taken]!.begins * factor < phase + t - 1e-9) {
        const step = steps[taken++]!;
        here = stepped(here, isMirrored ? mirroredStep(step) : step, this.stride);
      }
      this.places.push({ ...here, at: from + t });
    }
  }
}
