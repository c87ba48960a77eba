import type { BoardSummary, BoardsQuery } from '@/lib/protocol/api.ts';

/** A page of the list, and what was asked for. */
export interface ListPage extends BoardsQuery {
  boards: BoardSummary[];
  total: number;
}

/** Where in the studio this page of the list stands, pages from 1. */
export function listAddress(page: number, named: string): string {
  const query = new URLSearchParams([
    ...(named === '' ? [] : [['named', named]]),
    ...(page === 1 ? [] : [['page', String(page)]]),
  ]).toString();
  return query === '' ? '/' : `/?${query}`;
}
