import type { Board } from '../areas/board.ts';
import type { Plan } from '../areas/plan.ts';
import type { Day } from '../calendar.ts';
import { solveEnding } from '../dance/ending.ts';
import { laidOut } from '../dance/place.ts';
import { planWalkOn } from '../dance/walkOn.ts';
import type { FloorScore } from '../edit/score.ts';
import type { FeatureTable } from '../song/features.ts';
import type { Danced, Sight } from './finding.ts';

/** What the rules look at. `score` and `heard` are the board's, made once where only the dance changes. */
export const sightOf = (
  board: Board,
  score: FloorScore | null,
  heard: FeatureTable | null,
  today: Day,
): Sight => ({
  board,
  danced: score ? dancedOf(board.plan, score, heard) : null,
  today,
});

function dancedOf(plan: Plan, score: FloorScore, heard: FeatureTable | null): Danced | null {
  if (!plan.grid || score.counts.length === 0) return null;
  const laid = laidOut(plan, score);
  const ending = solveEnding(plan, score);
  const walk = planWalkOn(plan, score);
  const played = laid.filter((one) => !one.removedByEdit);
  const whole = [...played, ...(ending.ok ? ending.value.moves : [])].sort((a, b) => a.at - b.at);
  return { score, grid: plan.grid, laid, whole, ending, walk: walk.ok ? walk.value : null, heard };
}
