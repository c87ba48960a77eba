import type { FloorScore } from '../edit/score.ts';
import { type Count, count } from '../units.ts';
import { onBoard, suitsMetre } from './counts.ts';
import { solveEnding } from './ending.ts';
import type { Move } from './move.ts';
import { type LaidMove, laidOut } from './place.ts';
import type { DancePlan } from './plan.ts';
import { planWalkOn } from './walkOn.ts';

/** A stretch that no move takes. */
interface BasicStretch {
  from: Count;
  counts: number;
  /** The couple's basic; null when the board has none that suits the metre. */
  basic: Move | null;
  /** How often the whole basic fits, and the counts that remain. */
  whole: number;
  left: number;
}

/** The board's basic: of those that suit the metre, the one whose dance most of its moves are of, links apart. */
export function basicOf(plan: DancePlan): Move | null {
  const { grid, moves } = plan;
  if (!grid) return null;
  const ofDance = (move: Move) => moves.filter(({ dance, link }) => !link && dance === move.dance).length;
  const basics = moves.filter((move) => move.basic && suitsMetre(move, grid));
  return basics.reduce<Move | null>(
    (best, move) => (!best || ofDance(move) > ofDance(best) ? move : best),
    null,
  );
}

/** Placed moves that are played and the ending's, in the order in which they are danced. */
export function wholeDance(plan: DancePlan, score: FloorScore): LaidMove[] {
  const solved = solveEnding(plan, score);
  const ending = solved.ok ? solved.value.moves : [];
  return [...laidOut(plan, score).filter((laid) => !laid.removedByEdit), ...ending].sort(
    (a, b) => a.at - b.at,
  );
}

function firstStepOf(plan: DancePlan, score: FloorScore): Count | null {
  const walk = planWalkOn(plan, score);
  return walk.ok ? walk.value.firstStep : null;
}

/** The first count that begins after the last sound. */
export function afterSound({ counts, musicLength }: FloorScore): number {
  let [low, high] = [0, counts.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (counts[middle]!.floor < musicLength) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * What the basic fills: from the first step to the ending (without one, to the last sound), between the moves. Preparations
 * lie inside, being led during the basic.
 * @param dance the whole of it, in order, and the first step, where they are at hand
 */
export function basicStretches(
  plan: DancePlan,
  score: FloorScore,
  dance: readonly LaidMove[] = wholeDance(plan, score),
  first: Count | null = firstStepOf(plan, score),
): BasicStretch[] {
  const { grid } = plan;
  if (!grid || first === null) return [];
  const basic = basicOf(plan);
  const size = basic ? onBoard(basic, basic.counts, grid) : 0;
  const stretches: BasicStretch[] = [];
  const add = (from: number, to: number) => {
    if (to <= from) return;
    const whole = size > 0 ? Math.floor((to - from) / size) : 0;
    stretches.push({
      from: count(from),
      counts: to - from,
      basic,
      whole,
      left: to - from - whole * size,
    });
  };
  let from: number = first;
  for (const laid of dance) {
    add(from, laid.at);
    from = Math.max(from, laid.end);
  }
  // After the closing pose nothing is danced.
  if (dance.at(-1)?.part !== 'ending') {
    add(from, afterSound(score));
  }
  return stretches;
}
