import type { Board } from '@/lib/core/areas/board.ts';
import type { Day } from '@/lib/core/calendar.ts';
import { checkInSteps, mayBeFixed } from '@/lib/core/checks/checkBoard.ts';
import { stages } from '@/lib/core/handover/stages.ts';
import type { Checked } from './checking.ts';

/** The rules and what is made of their findings: fetched in one piece, after what is first seen. */
export function* checkedInSteps(board: Board, today: Day): Generator<void, Checked> {
  const findings = yield* checkInSteps(board, today);
  return { findings, stages: stages(board, findings), mayBeFixed };
}
