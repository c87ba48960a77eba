import type { BoardSummary } from '../../lib/protocol/api.ts';

export interface BoardsByDate {
  coming: BoardSummary[];
  undated: BoardSummary[];
  danced: BoardSummary[];
}

/** The couples of a page under their headings, in the order in which the server gave them. */
export const byDate = (boards: readonly BoardSummary[]): BoardsByDate => ({
  coming: boards.filter(({ date, today }) => date !== null && date >= today),
  undated: boards.filter(({ date }) => date === null),
  danced: boards.filter(({ date, today }) => date !== null && date < today),
});
