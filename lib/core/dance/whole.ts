import { nearestCount } from '../edit/nearestCount.ts';
import type { FloorScore } from '../edit/score.ts';
import { solveEnding } from './ending.ts';
import { laidOut } from './place.ts';
import type { DancePlan } from './plan.ts';

export type Lacking = 'a first step' | 'a move' | 'a closing pose';

/**
 * What a plan still lacks to be a dance, in the order of the song; nothing of a whole one. A dance begins with a first step that
 * somebody chose, has a move besides those of the ending, and closes with a pose that lands; each of them in music that is played.
 * Common practice, no source.
 */
export function lackingOf(plan: DancePlan, score: FloorScore | null): Lacking[] {
  const first = plan.walkOn?.firstStep ?? null;
  const has: Record<Lacking, boolean | null> = {
    'a first step': score && first !== null && nearestCount(score, first) !== null,
    'a move': score && laidOut(plan, score).some((one) => !one.removedByEdit),
    'a closing pose': score && solveEnding(plan, score).ok,
  };
  return (Object.keys(has) as Lacking[]).filter((part) => !has[part]);
}
