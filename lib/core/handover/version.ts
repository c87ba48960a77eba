import { currentDigest } from '../areas/answerState.ts';
import type { Board } from '../areas/board.ts';

/**
 * The number of the present version as people count them, from 1: one for each different edit that the DJ was asked about
 * or answered, in that order; an edit that nobody has spoken of yet is the next. A board that goes back to an earlier edit
 * goes back to its number.
 */
export function versionNumber({ plan, answer }: Board): number {
  const spoken = [...(answer?.answers ?? []), ...(plan.asked ? [plan.asked] : [])].sort((a, b) =>
    a.at < b.at ? -1 : a.at > b.at ? 1 : 0,
  );
  const versions = [...new Set(spoken.map(({ digest }) => digest))];
  const present = versions.indexOf(currentDigest(plan) ?? '');
  return present === -1 ? versions.length + 1 : present + 1;
}
