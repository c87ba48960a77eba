import { setImmediate as turn } from 'node:timers/promises';
import type { Services } from '../../lib/access/services.ts';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';
import type { Day } from '../../lib/core/calendar.ts';
import type { BoardSummary } from '../../lib/protocol/api.ts';
import type { Store, StoredBoard } from '../../lib/store/store.ts';
import { dayIn } from '../../lib/zone/dayIn.ts';
import type { Log } from '../log.ts';
import type { Rooms } from '../sync/rooms.ts';
import { type Dated, inOrder, isNamed, type Listed, NOT_READ, notedOf, readListed } from './listed.ts';
import { readWhole } from './readWhole.ts';
import { Summaries } from './summaries.ts';
import { factsOf, summaryOf } from './summary.ts';

const names = Object.keys(areas) as AreaName[];
/** Boards that are read at a time: the store answers many at once, and others have their turn in between. */
const AT_ONCE = 25;
const APART = 'A part of this board is damaged and was set apart: its history leads back.';
const UNREAD = 'This board cannot be read just now. Please look again in a moment.';

interface About {
  clock: () => Date;
  log: Pick<Log, 'error'>;
  /** What another program said of a board is said anew; so is all where it is not known which one runs. */
  program: string | null;
}

/**
 * The studio's list, a page at a time. All boards are sorted and searched by what is kept with each; only those of the page are
 * opened, and only where something was written or the day has turned since. One that cannot be read never stops the others.
 */
export function studioList(
  store: Pick<Store, 'boards' | 'areas'>,
  rooms: Pick<Rooms, 'read'>,
  { clock, log, program }: About,
): Services['boards']['list'] {
  const summaries = new Summaries(store.boards, program);
  /** One list reads what all are sorted by at a time: the next finds it noted. */
  let reading: Promise<unknown> = Promise.resolve();

  /** What all boards are sorted by, read again and noted where something was written since. */
  const readAll = async (boards: readonly StoredBoard[]): Promise<Map<string, Listed>> => {
    const all = new Map<string, Listed>();
    const stale: StoredBoard[] = [];
    for (const board of boards) {
      const { listed, holds } = notedOf(board);
      all.set(board.id, listed ?? NOT_READ);
      if (!holds) stale.push(board);
    }
    const news: { id: string; listed: string }[] = [];
    for (let from = 0; from < stale.length; from += AT_ONCE) {
      const reading = stale.slice(from, from + AT_ONCE).map(async ({ id }) => {
        const listed = await readListed(store.areas, id).catch(() => null);
        // What cannot be read keeps the place that it had.
        if (listed === null) return;
        all.set(id, listed);
        news.push({ id, listed: JSON.stringify(listed) });
      });
      await Promise.all(reading);
      await turn();
    }
    // Only the next list is slower without it, as on a full disk.
    await store.boards.note(news).catch(() => undefined);
    return all;
  };

  const summaryNow = async ({ at: _at, ...listed }: Dated): Promise<BoardSummary> => {
    const { board, apart, failure } = await readWhole(rooms, listed.id);
    if (apart.length === 0 && failure === null) {
      try {
        return { ...listed, ...summaryOf(board, listed.today), apart: null };
      } catch (error) {
        log.error('a board cannot be listed', { reason: String(error) });
      }
    } else if (failure !== null) log.error('a board cannot be listed', { reason: String(failure) });
    const said = apart.length > 0 ? APART : UNREAD;
    return { ...listed, ...NOTHING_CHECKED, ...factsOf(board.plan), apart: said };
  };

  return async (reader, { from, count, named = '' }) => {
    const now = clock();
    await reading;
    const listing = store.boards.list().then(async (boards) => ({ boards, all: await readAll(boards) }));
    reading = listing.catch(() => undefined);
    const { boards, all } = await listing;
    const days = new Map<string | null, Day>();
    const todayIn = (zone: string | null): Day => {
      const day = days.get(zone) ?? dayIn(zone, reader, now);
      days.set(zone, day);
      return day;
    };
    const found = [...all]
      .filter(([, listed]) => isNamed(listed, named))
      .map(([id, listed]) => ({ ...listed, id, today: todayIn(listed.zone) }));
    const heads = new Map(boards.map((board) => [board.id, headsOf(board)]));
    const wanted = inOrder(found)
      .slice(from, from + count)
      .map((board) => ({ board, of: `${heads.get(board.id)} ${board.today}` }));
    await summaries.look(wanted.map(({ board: { id }, of }) => ({ id, of })));
    const page: BoardSummary[] = [];
    for (const { board, of } of wanted) {
      const known = summaries.get(board.id, of);
      page.push(known ?? (await summaryNow(board)));
      if (known) continue;
      summaries.add(of, page.at(-1)!);
      await turn();
    }
    await summaries.keep(all);
    return { boards: page, total: found.length };
  };
}

const headsOf = ({ heads }: StoredBoard): string => names.map((name) => heads[name] ?? 0).join(' ');

const NOTHING_CHECKED = {
  floorLength: null,
  strip: null,
  findings: { blocks: 0, warns: 0, hints: 0 },
  lacks: [],
  owed: [],
  questions: { open: 0, unread: 0 },
};
