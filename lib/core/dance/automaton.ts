import type { DanceHold, Move } from './move.ts';
import {
  anyFeet,
  beginOf,
  endOf,
  mirrored,
  mirroredSet,
  otherFoot,
  PAIRS,
  type Stance,
  weighted,
} from './stance.ts';

/**
 * The one automaton of feet, hold and place: its states are stances, its steps are figures. Checks, proposals, links and papers
 * ask it, nobody reckons feet by themselves. A nondeterministic finite automaton run as the set of its states (Rabin and Scott
 * 1959), because of a figure that says nothing of its feet all states are possible.
 */

/** What a figure does to each of the four pairs of free feet: the set of pairs after it; 0 where it cannot be begun so. */
type Footwork = readonly [number, number, number, number];

const known = new WeakMap<Move, Footwork>();

/** From a figure's steps where they are told, else from the feet that it says it begins and ends with. */
export function footworkOf(move: Move): Footwork {
  const before = known.get(move);
  if (before) return before;
  const work = [0, 1, 2, 3].map((pair) => {
    const as = afterOf(move, pair);
    // Mirrored, it does to this pair what it does to the other one, mirrored.
    const turned = move.eitherFoot ? mirroredSet(afterOf(move, mirrored(pair))) : 0;
    return as | turned;
  }) as unknown as Footwork;
  known.set(move, work);
  return work;
}

function afterOf(move: Move, pair: number): number {
  if (move.steps === undefined) return beginOf(move).feet & (1 << pair) ? endOf(move).feet : 0;
  const feet = [PAIRS[pair]![0], PAIRS[pair]![1]];
  for (const [i, who] of (['lead', 'follow'] as const).entries()) {
    const steps = weighted(move.steps, who);
    // Who takes no weight keeps the free foot.
    if (steps.length === 0) continue;
    if (steps[0]!.foot !== feet[i]) return 0;
    feet[i] = otherFoot(steps.at(-1)!.foot);
  }
  return 1 << PAIRS.findIndex(([lead, follow]) => lead === feet[0] && follow === feet[1]);
}

/** Letting go of a hand takes no time: whoever holds both has one, and whoever holds on at arm's length holds a hand. */
const LET_GO: Partial<Record<DanceHold, readonly DanceHold[]>> = {
  'two hands': ['open', 'one hand'],
  open: ['one hand'],
};

/** Whether what begins in one hold can follow at once on what ends in another. */
export const holdServes = (has: DanceHold | null, needs: DanceHold | null): boolean =>
  has === null || needs === null || has === needs || (LET_GO[has]?.includes(needs) ?? false);

/** A link that leaves hold and position as they are may be danced in any. */
const keepsHold = (move: Move): boolean =>
  move.link === true && move.holdBefore === move.holdAfter && move.positionBefore === move.positionAfter;

export type Lack = 'feet' | 'hold' | 'position';

/** What keeps a figure from following at once; empty where it connects. */
export function lacksFor(from: Stance, move: Move): Lack[] {
  const lacks: Lack[] = [];
  if (feetAfter(from.feet, move) === 0) lacks.push('feet');
  if (keepsHold(move)) return lacks;
  const needs = beginOf(move);
  if (!holdServes(from.hold, needs.hold)) lacks.push('hold');
  if (from.position !== null && needs.position !== null && from.position !== needs.position)
    lacks.push('position');
  return lacks;
}

function feetAfter(feet: number, move: Move): number {
  const work = footworkOf(move);
  let after = 0;
  for (let pair = 0; pair < work.length; pair++) if (feet & (1 << pair)) after |= work[pair]!;
  return after;
}

/** How they stand after a figure. Where its feet did not connect, as it says itself: one break is told once. */
export function stanceAfter(from: Stance, move: Move): Stance {
  const feet = feetAfter(from.feet, move) || feetAfter(anyFeet, move);
  if (keepsHold(move)) return { ...from, feet };
  const { hold, position } = endOf(move);
  return { feet, hold, position };
}
