import { type AreaName, areas, type Board } from '../../lib/core/areas/board.ts';
import { emptyBoard } from '../../lib/core/areas/empty.ts';
import { AreaApart } from '../sync/apart.ts';
import type { Rooms } from '../sync/rooms.ts';

const names = Object.keys(areas) as AreaName[];

/** A board as far as it can be read: what cannot be is as if nothing had been written there. */
export interface ReadBoard {
  board: Board;
  /** Areas that were set apart. */
  apart: AreaName[];
  /** What else went wrong, which may be gone in a moment; null where nothing did. */
  failure: unknown;
}

export async function readWhole(rooms: Pick<Rooms, 'read'>, id: string): Promise<ReadBoard> {
  const read: ReadBoard = { board: emptyBoard(), apart: [], failure: null };
  await Promise.all(
    names.map(async (area) => {
      try {
        read.board[area] = (await rooms.read(id, area)) as never;
      } catch (error) {
        if (error instanceof AreaApart) read.apart.push(area);
        else read.failure = error;
      }
    }),
  );
  return read;
}
