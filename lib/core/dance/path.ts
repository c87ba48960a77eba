import type { Grid } from '../song/grid.ts';
import { countFactor, onBoard } from './counts.ts';
import type { Sequence } from './dancedThrough.ts';
import type { Move } from './move.ts';
import type { DanceStep } from './step.ts';

/** Metres of a usual step in hold: common practice, no source; a setting. */
export const usualStride = 0.5;
/** Metres by which each step may be longer or shorter, of the stride; by which nobody knows where an untold move goes, of its room. */
const STEP_OFF = 0.15;
const UNTOLD_OFF = 0.5;
/** Counts between two places of the path. */
const GRAIN = 0.5;

/** Where the couple's middle is, and which way the lead faces. */
export interface Place {
  /** Counts of the board's level from the first step, in halves. */
  at: number;
  /** Metres to the right of the first step and ahead of it, as the lead faced then. */
  x: number;
  y: number;
  /** Eighths of a turn to the right from how the lead faced then. */
  facing: number;
  /** The middle lies within so many metres of it. Independent errors add by their squares. */
  within: number;
}

/** Travel of steps, one after another, in the frame in which the first begins: strides, and eighths of turn. */
export function travelOf(steps: readonly DanceStep[]): { along: number; side: number; turn: number } {
  const end = steps.reduce<Place>((place, step) => stepped(place, step, 1), start);
  return { along: end.y, side: end.x, turn: end.facing };
}

/** What the lead takes part in: that moves the couple's middle. */
export const leadSteps = (move: Move): readonly DanceStep[] =>
  (move.steps ?? []).filter(({ who }) => who !== 'follow');

const start: Place = { at: 0, x: 0, y: 0, facing: 0, within: 0 };

/** What is `x` to the right and `y` ahead for who has turned so many eighths to the right. */
export function turned(x: number, y: number, eighths: number): { x: number; y: number } {
  const angle = (eighths * Math.PI) / 4;
  return {
    x: x * Math.cos(angle) + y * Math.sin(angle),
    y: y * Math.cos(angle) - x * Math.sin(angle),
  };
}

/** One step on: its place is told as the lead faces when it begins, and the turn comes with it. */
function stepped(from: Place, { where, turn }: DanceStep, stride: number): Place {
  const goes = turned(where.side * stride, where.along * stride, from.facing);
  const off = STEP_OFF * Math.hypot(goes.x, goes.y);
  return {
    at: from.at,
    x: from.x + goes.x,
    y: from.y + goes.y,
    facing: from.facing + turn,
    within: Math.hypot(from.within, off),
  };
}

/**
 * The path of a dance: a place for each half count from the first step to the end of the last move, the basic between the moves
 * danced on and on. A step arrives with its own count. A move that tells no steps leaves the couple where they were, as far as anybody
 * knows: the places after it are the less certain, by half the room that it takes.
 * @param stride metres of a step
 */
export function pathOf({ grid, basic, first, laid }: Sequence, stride = usualStride): Place[] {
  const path: Place[] = [start];
  let at = first;
  for (const next of laid) {
    if (next.at > at) fill(path, basic, next.at - at, grid, stride);
    const between = next.move.repeats ? 0 : onBoard(next.move, next.move.preparation, grid);
    for (let i = 0; i < next.times; i++) {
      if (i > 0 && between > 0) fill(path, basic, between, grid, stride);
      danced(path, next.move, onBoard(next.move, next.move.counts, grid), grid, stride);
    }
    at = Math.max(at, next.end);
  }
  return path;
}

/** The basic, for so many counts of the board: whole ones, and the beginning of another. */
function fill(path: Place[], basic: Move | null, counts: number, grid: Grid, stride: number): void {
  if (!basic) {
    still(path, counts);
    return;
  }
  const size = onBoard(basic, basic.counts, grid);
  for (let left = counts; left > 0; left -= size) danced(path, basic, Math.min(left, size), grid, stride);
}

function still(path: Place[], counts: number): void {
  for (let t = 0; t < counts; t += GRAIN) path.push({ ...path.at(-1)!, at: path.at(-1)!.at + GRAIN });
}

/** The first counts of a figure. */
function danced(path: Place[], move: Move, counts: number, grid: Grid, stride: number): void {
  const factor = countFactor(move, grid);
  const steps = leadSteps(move).toSorted((a, b) => a.begins - b.begins);
  const began = path.at(-1)!;
  let here: Place = move.steps
    ? began
    : { ...began, within: Math.hypot(began.within, UNTOLD_OFF * move.room) };
  let taken = 0;
  for (let t = GRAIN; t <= counts + 1e-9; t += GRAIN) {
    while (taken < steps.length && steps[taken]!.begins * factor < t - 1e-9)
      here = stepped(here, steps[taken++]!, stride);
    path.push({ ...here, at: began.at + t });
  }
}
