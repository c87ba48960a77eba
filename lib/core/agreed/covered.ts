import type { DjAnswer } from '../areas/answer.ts';
import type { Board } from '../areas/board.ts';
import type { Plan } from '../areas/plan.ts';
import { digestOf } from '../edit/digest.ts';
import { djPrinted } from './djPrinted.ts';
import { factsThatDiffer } from './entry.ts';
import { currentDigest } from './played.ts';

/** Whether all that was read with an answer still reads so. An older one says only for which edit it was. */
export const isRead = (board: Board, answer: DjAnswer): boolean =>
  !answer.covers || djPrinted(asItWasRead(board, answer), answer.plays).digest === answer.covers.digest;

/** What was read with an answer and reads otherwise now, whatever the edit: was and is, in words. */
export function readSince(board: Board, answer: DjAnswer): string[] {
  const { covers, plays } = answer;
  if (!covers || isRead(board, answer)) return [];
  const unedited = djPrinted(asItWasRead(board, answer), plays).facts;
  const now = djPrinted(board, plays).facts;
  const changed = (facts: Record<string, string>) =>
    Object.fromEntries(Object.entries(facts).filter(([label]) => covers.facts[label] !== unedited[label]));
  return factsThatDiffer(changed(covers.facts), changed(now));
}

/** The board with the edit that the answer was read beside: what a change of the edit brings with it is no change beside it. */
function asItWasRead(board: Board, answer: DjAnswer): Board {
  const { plan } = board;
  if (plan.recording && digestOf(answer.edit, plan.recording) === currentDigest(plan)) return board;
  const known = kept.get(answer);
  if (known?.of === plan) return { ...board, plan: known.plan };
  // A grid of its own keeps the present edit's score from being forgotten for this one.
  const before: Plan = { ...plan, edit: answer.edit, grid: plan.grid && { ...plan.grid } };
  kept.set(answer, { of: plan, plan: before });
  return { ...board, plan: before };
}

/** Made anew only when the plan has changed. */
const kept = new WeakMap<DjAnswer, { of: Plan; plan: Plan }>();
