import type { PlanChange } from '@/lib/core/areas/change.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { boardScore } from '@/lib/core/areas/score.ts';
import { storedAt } from '@/lib/core/dance/place.ts';
import { nearestCount } from '@/lib/core/edit/nearestCount.ts';
import { countLevelOf } from '@/lib/core/song/correct.ts';
import type { CountLevel } from '@/lib/core/song/grid.ts';

/**
 * Counts at another level. `seconds`: moves stay where and as long as they are heard, and get other numbers. `counts`: a move
 * keeps its length in counts and stands on the same count of its phrase, and lasts as long as those now do; where the phrase
 * has no such count any more, it stays where it is heard.
 */
export function levelChanges(plan: Plan, level: CountLevel, keep: 'seconds' | 'counts'): PlanChange[] {
  const { grid } = plan;
  if (!grid) return [];
  const next = countLevelOf(grid, level);
  const changes: PlanChange[] = [{ register: 'grid', value: next }];
  if (keep === 'seconds') return changes;
  const [before, after] = [boardScore(plan), boardScore({ ...plan, grid: next })];
  for (const { id, level: own } of plan.moves) {
    if (own === grid.countLevel) changes.push({ collection: 'moves', id, fields: { level } });
  }
  if (!before || !after) return changes;
  for (const { id, at } of plan.placed) {
    const count = nearestCount(before, at);
    const phrase = count ? after.phrases[count.phrase] : undefined;
    if (!count || !phrase || count.inPhrase >= phrase.counts) continue;
    const fields = { at: storedAt(after, phrase.first + count.inPhrase) };
    changes.push({ collection: 'placed', id, fields });
  }
  return changes;
}
