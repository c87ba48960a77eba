import type { BoardSummary } from '../../lib/protocol/api.ts';

export interface BoardsByDate {
  coming: BoardSummary[];
  undated: BoardSummary[];
  /** Danced already; the latest first. */
  danced: BoardSummary[];
}

/** Couples in the order in which they need the instructor: the nearest day first. */
export function byDate(boards: readonly BoardSummary[]): BoardsByDate {
  const dated = boards
    .filter((board) => board.date !== null)
    .sort((a, b) => (a.date! < b.date! ? -1 : a.date! > b.date! ? 1 : a.one.localeCompare(b.one)));
  return {
    coming: dated.filter((board) => board.date! >= board.today),
    undated: boards.filter((board) => board.date === null),
    danced: dated.filter((board) => board.date! < board.today).reverse(),
  };
}
