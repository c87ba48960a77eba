import type { Plan } from '../areas/plan.ts';
import { setFirstStep } from '../dance/walkOn.ts';
import type { Danced, Fix } from './finding.ts';
import { whereabouts } from './words.ts';

/** Fixes that put the first step where the walk proposes it, then on the first phrases that leave time for the walk. */
export function firstStepFixes(plan: Plan, danced: Danced): Fix[] {
  const { score, walk } = danced;
  if (!walk) return [];
  const phrases = score.phrases.filter((p) => p.floor >= walk.seconds).map((p) => p.first as number);
  return [walk.proposed as number, ...phrases.slice(0, 4)].map((at) => ({
    words: `First step ${whereabouts(plan, danced, at)}`,
    changes: setFirstStep(plan, score, at),
  }));
}
