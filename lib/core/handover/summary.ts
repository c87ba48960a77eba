import type { Board } from '../areas/board.ts';
import { checkBoard } from '../checks/checkBoard.ts';
import { type Stage, stages } from './stages.ts';

/** What a couple's board still lacks, for a list of many. */
export interface Owed {
  stages: Stage[];
  /** What is owed, first things first, and by whom. */
  owed: { what: string; by: string }[];
}

export function boardSummary(board: Board, today: string): Owed {
  const five = stages(board, checkBoard(board, today));
  const owed = five.flatMap(({ name, words, owedBy }) =>
    owedBy ? [{ what: `${name}: ${words}`, by: owedBy }] : [],
  );
  return { stages: five, owed };
}
