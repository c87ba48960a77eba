import { newId } from '../../lib/access/links.ts';
import type { Services } from '../../lib/access/services.ts';
import { changesBetween } from '../../lib/board/between.ts';
import { AreaGuard } from '../../lib/board/guard.ts';
import { areaUpdate } from '../../lib/board/write.ts';
import { judge } from '../../lib/core/agreed/policy.ts';
import type { AreaData, AreaShape } from '../../lib/core/areas/area.ts';
import { type AreaName, areas, type Board } from '../../lib/core/areas/board.ts';
import { emptyArea, emptyBoard } from '../../lib/core/areas/empty.ts';
import type { Role } from '../../lib/core/areas/people.ts';
import { may } from '../../lib/core/areas/rights.ts';
import { bad, good, type Result } from '../../lib/core/result.ts';
import type { Store } from '../../lib/store/store.ts';
import type { Log } from '../log.ts';
import { AreaApart } from '../sync/apart.ts';
import type { Rooms } from '../sync/rooms.ts';
import { listedOf } from './listed.ts';
import { readWhole } from './readWhole.ts';
import { studioList } from './studioList.ts';

const names = Object.keys(areas) as AreaName[];

/** What a file brings is judged as everything else is. */
function judgedImport<A extends AreaName>(area: A, data: unknown): Result<true> {
  const shape: (typeof areas)[A] = areas[area];
  const changes = changesBetween(shape, emptyArea(shape), data as AreaData<typeof shape>);
  const verdict = judge(emptyBoard(), area, changes, { role: 'instructor', way: 'import' });
  return verdict.kind === 'refused' ? { ok: false, problem: verdict.problem } : good(true);
}

interface About {
  clock: () => Date;
  log: Pick<Log, 'error'>;
  /** Which program runs, where that is known. */
  program: string | null;
  onRemoved: (board: string) => Promise<void>;
}

export function boardService(
  store: Store,
  rooms: Rooms,
  { clock, log, program, onRemoved }: About,
): Services['boards'] {
  const readAs = async (id: string, role: Role): Promise<Board> => {
    const read = <A extends AreaName>(area: A) =>
      may(role, area, 'read') ? rooms.read(id, area) : Promise.resolve(null);
    const [plan, lessons, remarks, answer, show] = await Promise.all([
      rooms.read(id, 'plan'),
      read('lessons'),
      read('remarks'),
      read('answer'),
      read('show'),
    ]);
    return { plan, lessons, remarks, answer, show };
  };

  const makeFrom = async (board: Board): Promise<Result<string>> => {
    const updates: { area: AreaName; update: Uint8Array }[] = [];
    for (const area of names) {
      const data = board[area] ?? emptyArea(areas[area]);
      const judged = judgedImport(area, data);
      if (!judged.ok) return judged;
      const update = areaUpdate(areas[area] as AreaShape, data as AreaData<AreaShape>);
      // Remarks of an import were written by others, so the owner's check is not for this.
      const guard = new AreaGuard({ ...areas[area], owner: null });
      const checked = guard.check(update, { membership: '' });
      guard.destroy();
      if (!checked.ok) return checked;
      updates.push({ area, update });
    }
    const id = newId();
    // Each area begins with its first update.
    const listed = JSON.stringify(listedOf(board, { plan: 1, show: 1 }));
    await store.boards.add(id, clock().toISOString(), updates, listed);
    return good(id);
  };

  return {
    list: studioList(store, rooms, { clock, log, program }),
    async make({ one, other, date, venue }) {
      const board = emptyBoard();
      const made = await makeFrom({
        ...board,
        plan: {
          ...board.plan,
          couple: { one: { name: one, part: 'lead' }, other: { name: other, part: 'follow' } },
          date,
          venue: venue === '' ? null : venue,
        },
      });
      if (!made.ok) throw new Error(`a new board is not valid: ${made.problem.sentence}`);
      return made.value;
    },
    makeFrom,
    async read(id, role) {
      if (!(await store.boards.has(id))) return bad('not found', 'This board is no longer there.');
      try {
        return good(await readAs(id, role));
      } catch (error) {
        if (error instanceof AreaApart) return bad('apart', error.sentence);
        throw error;
      }
    },
    async about(id) {
      if (!(await store.boards.has(id))) return bad('not found', 'This board is no longer there.');
      const { board, apart } = await readWhole(rooms, id);
      const { couple } = board.plan;
      return good({ one: couple?.one.name ?? '', other: couple?.other.name ?? '', apart });
    },
    async remove(id) {
      if (!(await store.boards.has(id))) return bad('not found', 'This board is no longer there.');
      await store.boards.remove(id);
      await rooms.drop(id);
      await onRemoved(id);
      return good(undefined);
    },
  };
}
