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

/** The board's basic: of those that suit the metre, the one whose dance most of its moves are of. */
export function basicOf(plan: DancePlan): Move | null {
  const { grid, moves } = plan;
  if (!grid) return null;
  const ofDance = (move: Move) => moves.filter(({ dance }) => dance === move.dance).length;
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

/**
 * What the basic fills: from the first step to the ending (without one, to the last sound), between the moves. Preparations
 * lie inside, being led during the basic.
 */
export function basicStretches(plan: DancePlan, score: FloorScore): BasicStretch[] {
  const { grid } = plan;
  const walk = planWalkOn(plan, score);
  if (!grid || !walk.ok) return [];
  const basic = basicOf(plan);
  const size = basic ? onBoard(basic, basic.counts, grid) : 0;
  const dance = wholeDance(plan, score);
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
  let from: number = walk.value.firstStep;
  for (const laid of dance) {
    add(from, laid.at);
    from = Math.max(from, laid.end);
  }
  // After the closing pose nothing is danced.
  if (dance.at(-1)?.part !== 'ending') {
    const end = score.counts.findIndex((c) => c.floor >= score.musicLength);
    add(from, end < 0 ? score.counts.length : end);
  }
  return stretches;
}
