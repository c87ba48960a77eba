import { laidOut } from '@/lib/core/dance/place.ts';
import type { DancePlan } from '@/lib/core/dance/plan.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { ribbonLabel } from '@/lib/core/handover/sheetInk.ts';
import { clock } from '@/lib/core/units.ts';
import { said } from './said.ts';

/** Where a placed move lies, as a sentence to be heard: "underarm turn, on count 1 of chorus, 1:09". */
export function saidOf(plan: DancePlan, score: FloorScore, id: string | null): string {
  const laid = id === null ? undefined : laidOut(plan, score).find((one) => one.id === id);
  const count = laid && score.counts[laid.at];
  if (!laid || !count) return '';
  const section = score.sections[score.phrases[count.phrase]?.section ?? -1]?.name;
  return `${ribbonLabel(laid)}, on count ${said(score, count)}${section ? ` of ${section}` : ''}, ${clock(count.floor)}`;
}
