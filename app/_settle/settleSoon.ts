import type { Board } from '@/lib/core/areas/board.ts';
import type { Day } from '@/lib/core/calendar.ts';
import type { Settlement } from '@/lib/core/checks/settle.ts';
import { laterPart } from '../_client/laterParts.ts';
import { inSlices } from '../_ui/inSlices.ts';

const search = laterPart(() => import('@/lib/core/checks/settle.ts'));

/** Ms of searching after which the page may do other things. */
const SLICE = 6;

/**
 * Searches for the changes that settle a board together, in small pieces, as the page has time; gives what calls it off.
 * @param done told once, unless it was called off. Without a network there is no offer: each note still has its own
 */
export const settleSoon = (board: Board, today: Day, done: (found: Settlement) => void): (() => void) =>
  inSlices(
    async () => (await search()).fixAllInSteps(board, today),
    { slice: SLICE },
    (found) => found && done(found),
  );
