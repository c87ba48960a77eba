import type { AreaName, Board } from '../areas/board.ts';
import { same } from '../areas/marks.ts';
import { currentDigest } from './answerState.ts';
import { entryFacts } from './entry.ts';
import type { Gesture } from './gesture.ts';

/** Why a word that others rely on would be given for what is not so (any more), or by whom it may not be; null where all is well. */
export function staleWord(before: Board, after: Board, area: AreaName, { role }: Gesture): string | null {
  if (area === 'plan') {
    const { asked, settled } = after.plan;
    if (settled && role !== 'instructor' && !same(settled, before.plan.settled))
      return 'Only the instructor settles song and edit.';
    if (asked && !same(asked, before.plan.asked) && asked.digest !== currentDigest(before.plan))
      return 'The edit has changed meanwhile: look at it, and ask again.';
    return null;
  }
  if (area === 'show') {
    const final = after.show?.final ?? null;
    if (final === null || same(final, before.show?.final ?? null)) return null;
    return entryFacts(after).final?.outdated
      ? 'The entry has changed meanwhile: look at what differs, and mark it final again.'
      : null;
  }
  return null;
}
