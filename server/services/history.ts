import type { Services } from '../../lib/access/services.ts';
import { type Grant, INSTRUCTOR } from '../../lib/access/session.ts';
import { playedAgain, readEarlier, restoring, snapshotOf } from '../../lib/board/history/earlier.ts';
import type { AreaShape } from '../../lib/core/areas/area.ts';
import { type AreaName, areas, type Board } from '../../lib/core/areas/board.ts';
import { emptyBoard } from '../../lib/core/areas/empty.ts';
import type { Role } from '../../lib/core/areas/people.ts';
import type { Instant } from '../../lib/core/calendar.ts';
import { bad, good, type Result } from '../../lib/core/result.ts';
import type { Store, StoredLink } from '../../lib/store/store.ts';
import { AreaApart } from '../sync/apart.ts';
import type { Member, Room } from '../sync/room.ts';
import type { Rooms } from '../sync/rooms.ts';

const names = Object.keys(areas) as AreaName[];
const NO_RIGHT = bad('no right', 'Only the instructor may look into what a board was.');
const TOO_FAR = bad('not kept', 'What this was then is no longer kept: choose a later time.');
/** How many earlier states are tried, the newest first, until one can be read. */
const MOST_TRIED = 50;
/** The instructor, for whom the server puts back what stood earlier. */
const putBack = { membership: INSTRUCTOR, role: 'instructor', bringsBack: true } as const;

/** What a board was, and putting it right, all as changes like any other: so what is undone stays in the history itself. */
export function historyService(store: Store, rooms: Rooms, clock: () => Date): Services['history'] {
  /** The room with all that is stored; it is given back once `work` is done. */
  const inRoom = async <T>(board: string, area: AreaName, work: (room: Room) => Promise<T>): Promise<T> => {
    const room = await rooms.enter(board, area);
    // A room without members ends.
    const member: Member = { send: () => undefined, close: () => undefined };
    room.join(member);
    try {
      await room.follow();
      return await work(room);
    } finally {
      room.leave(member);
      rooms.waitForIdle(room);
    }
  };

  const written = async (room: Room, update: Uint8Array): Promise<Result<void>> => {
    const done = room.write(update, putBack, null);
    return done.ok ? good(await done.value) : done;
  };

  const takeBackIn = async (
    board: string,
    area: AreaName,
    whose: ReadonlySet<string>,
    since: Instant,
  ): Promise<{ undone: number; left: string[] }> => {
    const log = await store.areas.writings(board, area, since);
    if (!log.some(({ membership }) => whose.has(membership))) return { undone: 0, left: [] };
    const earlier = await store.areas.asOf(board, area, since);
    const shape: AreaShape = areas[area];
    const nothing = (sentence: string) => ({
      undone: 0,
      left: [`In the ${shape.name} nothing was taken back: ${sentence}`],
    });
    if (earlier === null || log[0]!.number !== earlier.number + 1)
      return nothing('what it was then is no longer kept.');
    try {
      const taking = await playedAgain(
        shape,
        earlier.updates,
        log.map(({ number, update, membership }) => ({
          number,
          update,
          side: whose.has(membership) ? 'theirs' : 'others',
        })),
      );
      return await inRoom(board, area, async (room) => {
        const { update, undone, left } = taking(room.doc);
        const done = update === null ? good(undefined) : await written(room, update);
        return done.ok ? { undone, left } : nothing(done.problem.sentence);
      });
    } catch (error) {
      if (error instanceof AreaApart) return nothing(error.sentence);
      throw error;
    }
  };

  /** What `read` makes of an area as of then; null where that throws, also on what the log says without its snapshots. */
  const readableAt = async <T>(
    board: string,
    area: AreaName,
    time: string,
    read: (updates: Uint8Array[]) => T,
  ): Promise<{ value: T; at: string } | null> => {
    for (let before: number | undefined; before !== 0; ) {
      const earlier = await store.areas.asOf(board, area, time, before);
      if (earlier === null) return null;
      try {
        return { value: read(earlier.updates), at: earlier.at };
      } catch {
        before = earlier.base;
      }
    }
    return null;
  };

  /** The newest state of an area that can be read: now, else as it was after one of the hours in which it was written. */
  const readableArea = async (board: string, area: AreaName) => {
    try {
      return { data: await rooms.read(board, area), at: null };
    } catch {
      const hours = (await store.areas.hours(board)).filter((hour) => hour.area === area);
      const times = [clock().toISOString(), ...hours.flatMap(({ to, from }) => [to, from])].slice(
        0,
        MOST_TRIED,
      );
      for (const time of times) {
        const found = await readableAt(board, area, time, (updates) => readEarlier(areas[area], updates));
        if (found) return { data: found.value, at: found.at };
      }
      return null;
    }
  };

  return {
    async hours(grant) {
      if (!isInstructor(grant)) return [];
      const roles = new Map((await store.links.everOf(grant.board)).map(({ id, role }) => [id, role]));
      return (await store.areas.hours(grant.board)).flatMap(({ area, membership, to }) => {
        const by = writerOf(membership, roles);
        return by ? [{ at: to as Instant, area, by }] : [];
      });
    },
    async takeBack(grant, link, since) {
      if (!isInstructor(grant)) return NO_RIGHT;
      const links = await store.links.everOf(grant.board);
      if (!links.some(({ id }) => id === link)) return bad('not found', 'That link is no longer there.');
      const whose = madeWith(link, links);
      const all = { undone: 0, left: [] as string[] };
      for (const area of names) {
        const { undone, left } = await takeBackIn(grant.board, area, whose, since);
        all.undone += undone;
        all.left.push(...left);
      }
      return good(all);
    },
    async restore(grant, area, at) {
      if (!isInstructor(grant)) return NO_RIGHT;
      const { board } = grant;
      const earlier = await store.areas.asOf(board, area, at);
      if (earlier === null) return TOO_FAR;
      const shape: AreaShape = areas[area];
      try {
        return await inRoom(board, area, async (room) => {
          const update = restoring(room.doc, shape, readEarlier(shape, earlier.updates));
          return update === null ? good(undefined) : written(room, update);
        });
      } catch (error) {
        if (!(error instanceof AreaApart)) throw error;
        const found = await readableAt(board, area, at, (updates) => {
          readEarlier(shape, updates);
          return snapshotOf(shape, updates);
        });
        if (found === null) return bad('damaged', 'It was damaged by then already: choose an earlier hour.');
        const why = { reason: `set apart: ${error.message}`, at: clock().toISOString() };
        const { head } = await store.areas.load(board, area);
        return (await store.areas.replace(board, area, head, found.value, why))
          ? good(undefined)
          : bad('busy', 'Somebody wrote in it just now: please try again.');
      }
    },
    async readable(grant) {
      if (!isInstructor(grant)) return NO_RIGHT;
      const file: Record<string, unknown> = { ...emptyBoard() };
      const earlier: { area: AreaName; at: Instant | null }[] = [];
      for (const area of names) {
        const read = await readableArea(grant.board, area);
        if (read !== null) file[area] = read.data;
        if (read?.at !== null) earlier.push({ area, at: (read?.at ?? null) as Instant | null });
      }
      return good({ file: file as unknown as Board, earlier });
    },
  };
}

const isInstructor = ({ role }: Grant): boolean => role === 'instructor';

function writerOf(
  membership: string,
  roles: ReadonlyMap<string, Role>,
): { link: string | null; role: Role } | null {
  if (membership === INSTRUCTOR) return { link: null, role: 'instructor' };
  const role = roles.get(membership);
  return role ? { link: membership, role } : null;
}

/** The link and all that were made with it, however far down. */
function madeWith(link: string, links: readonly StoredLink[]): Set<string> {
  const made = new Set([link]);
  for (const one of made) for (const { id, parent } of links) if (parent === one) made.add(id);
  return made;
}
