import type { Plan } from '@/lib/core/areas/plan.ts';
import { usualPhraseBars } from '@/lib/core/areas/score.ts';
import type { SongPlan } from '@/lib/core/edit/floorScore.ts';

/** What shaping and practising need to know of the board's song; null without a grid. */
export function songOf(plan: Plan): SongPlan | null {
  const { grid, recording, heard } = plan;
  if (!grid || !recording) return null;
  return {
    grid,
    sections: plan.sections,
    phraseBars: plan.phraseBars ?? usualPhraseBars(grid),
    duration: recording.duration,
    lastSound: heard?.lastSound ?? recording.duration,
    firstSound: heard?.firstSound ?? 0,
  };
}
