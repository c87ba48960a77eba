import type { Board } from '@/lib/core/areas/board.ts';
import type { Day } from '@/lib/core/calendar.ts';
import type { Finding } from '@/lib/core/checks/finding.ts';
import type { Stage } from '@/lib/core/handover/stages.ts';
import { inSlices } from '../_ui/inSlices.ts';
import { laterPart } from './laterParts.ts';

/** What the checks say of a board. */
export interface Checked {
  findings: Finding[];
  stages: Stage[];
  /** Ids of the rules that may offer a fix. */
  mayBeFixed: ReadonlySet<string>;
}

/** Ms of checking after which the page may do other things, and within which it is taken up again on a page that is never idle. */
const SLICE = 8;
const LATEST = 150;

/** Fetched after what is first seen: the rules are many, and nobody waits for them to see the song. */
const rules = laterPart(() => import('./checkedInSteps.ts'));

/**
 * Runs the checks on a board in small pieces, as the page has time; gives what calls it off.
 * @param done told once, unless it was called off; null when there is no network to fetch the rules by
 */
export const checkSoon = (board: Board, today: Day, done: (checked: Checked | null) => void): (() => void) =>
  inSlices(async () => (await rules()).checkedInSteps(board, today), { slice: SLICE, latest: LATEST }, done);
