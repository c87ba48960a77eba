import { Changes, type Kept } from '../../app/_client/changes.ts';
import { judge } from '../../lib/core/agreed/policy.ts';
import { questionOf } from '../../lib/core/agreed/question.ts';
import type { AreaName, Board } from '../../lib/core/areas/board.ts';
import { changeArea } from '../../lib/core/areas/change.ts';
import type { Role } from '../../lib/core/areas/people.ts';
import { good } from '../../lib/core/result.ts';

const policy = { judge, questionOf };
let ids = 0;

/** A person's page, with the gate and the undo that pages have, over whatever keeps the board. */
export const pageOver = (kept: Kept): Changes =>
  new Changes(
    kept,
    { here: () => policy, load: async () => policy },
    () => `fresh-${++ids}`,
    { done: [], undone: [] },
    () => undefined,
  );

/** A board that several people change, each by a page of their own, with nothing between. */
export function openedBoard(board: Board) {
  let now = board;
  return {
    read: (): Board => now,
    /** Past all pages. */
    put(next: Board): void {
      now = next;
    },
    page: (role: Role): Changes =>
      pageOver({
        role,
        read: () => now,
        mayWrite: () => true,
        write(area: AreaName, changes) {
          now = { ...now, [area]: changeArea(now[area] as never, changes as never) };
          return good(true);
        },
      }),
  };
}
