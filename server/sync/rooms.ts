import { readArea } from '../../lib/board/area.ts';
import { type OpenedArea, openArea, type Unusable } from '../../lib/board/open.ts';
import type { AreaData, AreaShape } from '../../lib/core/areas/area.ts';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';
import type { Closing } from '../../lib/protocol/close.ts';
import { type Nodes, noOthers } from '../../lib/store/nodes.ts';
import type { Store, StoredArea } from '../../lib/store/store.ts';
import type { Log } from '../log.ts';
import { AreaApart } from './apart.ts';
import { type Audits, sampled } from './audit.ts';
import { areasBeside, judging } from './judging.ts';
import { rootsOf } from './limits.ts';
import { mend } from './mend.ts';
import { rebuild } from './rebuild.ts';
import { type Failure, Room } from './room.ts';

/** How long an empty room stays, for somebody who reloads the page. */
const IDLE_MS = 20_000;

/** Part of an area was set aside, of this kind; an area of this name could not be opened, or differed from what is stored. */
type Counting = (what: 'set_aside' | 'apart' | 'mismatches', label: string) => void;

/** What the log says of an open area that differs from what is stored of it. */
export const MISMATCH = 'an open area differs from what is stored';

interface Opened {
  loading: Promise<Room>;
  /** Null until it is loaded. */
  room: Room | null;
}

/**
 * The open rooms. Each is loaded once, and everybody who comes meanwhile waits for the same promise. With a room those that its area
 * is judged by are opened too, and kept while somebody is in it: not while it is merely open, since two may keep each other.
 */
export class Rooms {
  private readonly open = new Map<string, Opened>();
  private readonly idle = new Map<Room, NodeJS.Timeout>();
  private readonly ending = new Set<Promise<void>>();
  /** Areas that could not be opened when it was last tried. */
  private readonly damaged = new Set<string>();

  constructor(
    private readonly store: Store,
    private readonly log: Log,
    private readonly idleMs = IDLE_MS,
    private readonly nodes: Nodes = noOthers,
    private readonly tally: Counting = () => undefined,
    private readonly audits: Audits = sampled,
  ) {}

  /** Boards of which a part could not be opened when it was last tried. */
  get apart(): number {
    return new Set([...this.damaged].map(boardOf)).size;
  }

  get count(): number {
    return this.open.size;
  }

  /** The room, once it is loaded, when it is open here. */
  async find(board: string, area: AreaName): Promise<Room | null> {
    return (await this.open.get(keyOf(board, area))?.loading.catch(() => null)) ?? null;
  }

  /** Those that somebody has open, or is about to. */
  boards(): string[] {
    return [...new Set([...this.open.keys()].map(boardOf))];
  }

  async all(): Promise<Room[]> {
    const rooms = await Promise.all([...this.open.values()].map(({ loading }) => loading.catch(() => null)));
    return rooms.filter((room) => room !== null);
  }

  /**
   * Whoever enters joins in the same step, or not at all: a room without members ends after a while. Rejects with `AreaApart` where
   * the area cannot be opened; one beside it that cannot be is as one that is not open.
   */
  async enter(board: string, area: AreaName): Promise<Room> {
    const names = [area, ...areasBeside(area)];
    this.lookLater(board, names);
    const [own] = await Promise.allSettled(names.map((name) => this.opened(board, name).loading));
    // Whoever comes over from another node brings what they heard there: it must not look like words of their own.
    if (own!.status === 'fulfilled' && this.nodes !== noOthers) await own!.value.follow();
    // Not before all are there: none is to go while another takes its time.
    this.lookLater(board, names);
    if (own!.status === 'rejected') throw own!.reason;
    return own!.value;
  }

  /** To be called when a member has left. */
  waitForIdle({ board, area }: Room): void {
    this.lookLater(board, [area, ...areasBeside(area)]);
  }

  /**
   * An area as plain data, and durable; opens no room for it. Rejects with `AreaApart` where it cannot be opened, and where the
   * store is away.
   */
  async read<A extends AreaName>(board: string, area: A): Promise<AreaData<(typeof areas)[A]>> {
    const shape: (typeof areas)[A] = areas[area];
    const room = await this.open.get(keyOf(board, area))?.loading;
    if (room) {
      // Another node may be ahead of it.
      if (this.nodes !== noOthers) await room.follow();
      const data = readArea(room.doc, shape);
      await room.settled;
      return data;
    }
    // As a room would open it, but nothing that must be mended is stored: that is done when somebody comes.
    const { doc } = (await this.openStored(board, area)).opened;
    const data = readArea(doc, shape);
    doc.destroy();
    return data;
  }

  /** A stored area, opened and readable; a snapshot that cannot be read is rebuilt from what it replaced, where that is there. */
  private async openStored(
    board: string,
    area: AreaName,
  ): Promise<{ stored: StoredArea; opened: OpenedArea }> {
    const stored = await this.store.areas.load(board, area);
    const opened = this.whole(board, area, () => {
      const found = openArea(areas[area], stored.updates);
      readArea(found.doc, areas[area]);
      return found;
    });
    const snapshot = stored.updates.length > stored.loose ? stored.updates[0] : null;
    const lost = opened.unusable.find(({ bytes }) => bytes === snapshot);
    if (!lost || !(await rebuild(this.store, { board, area }, stored))) return { stored, opened };
    opened.doc.destroy();
    this.noteAside(area, lost);
    return this.openStored(board, area);
  }

  private noteAside(area: AreaName, { kind, reason }: Pick<Unusable, 'kind' | 'reason'>): void {
    this.log.error('set aside', { area, kind, reason });
    this.tally('set_aside', kind);
  }

  /** What opens an area, which may throw for whatever is wrong with what is stored of it. */
  private whole<T>(board: string, area: AreaName, open: () => T): T {
    const key = keyOf(board, area);
    try {
      const opened = open();
      this.damaged.delete(key);
      return opened;
    } catch (error) {
      const apart = new AreaApart(area, error);
      if (!this.damaged.has(key)) this.log.error('set apart', { board, area, reason: String(error) });
      this.damaged.add(key);
      this.tally('apart', area);
      throw apart;
    }
  }

  /** Ends the rooms of a board that is removed. */
  async drop(board: string): Promise<void> {
    const names = Object.keys(areas) as AreaName[];
    for (const area of names) this.damaged.delete(keyOf(board, area));
    const found = await Promise.all(names.map((area) => this.find(board, area)));
    this.end(found, 'gone');
    await Promise.all(this.ending);
  }

  /** Resolves when all that was accepted is durable and every document is let go. */
  async stop(): Promise<void> {
    // One that is being entered may open others.
    while (this.open.size > 0) this.end(await this.all(), 'stopping');
    await Promise.all(this.ending);
  }

  /** Everybody is sent away before any is let go, so that nobody writes where another is missing. */
  private end(found: readonly (Room | null)[], closing: Closing): void {
    const rooms = found.filter((room) => room !== null);
    for (const room of rooms) room.closeAll(closing);
    for (const room of rooms) this.let(room);
  }

  private opened(board: string, area: AreaName): Opened {
    const key = keyOf(board, area);
    const known = this.open.get(key);
    if (known) return known;
    const opened: Opened = { loading: this.load(board, area), room: null };
    this.open.set(key, opened);
    opened.loading.then(
      (room) => {
        opened.room = room;
      },
      () => this.open.delete(key),
    );
    return opened;
  }

  /** An area as it is here now; where it is not open, or its room has failed, that begins, and what asks does not wait. */
  private now(board: string, area: AreaName): AreaData<AreaShape> | null {
    const { room, loading } = this.opened(board, area);
    if (room?.isOpen) return room.read();
    loading.then(
      () => this.lookLater(board, [area]),
      () => undefined,
    );
    return null;
  }

  private async load(board: string, area: AreaName): Promise<Room> {
    const [{ stored, opened }, links] = await Promise.all([
      this.openStored(board, area),
      this.store.links.everOf(board),
    ]);
    const mended = await mend(this.store, { board, area }, stored, opened);
    for (const unusable of opened.unusable) this.noteAside(area, unusable);
    const onFailure = (failed: Room, reason: string, why: Failure) => {
      if (why === 'mismatch') this.tally('mismatches', area);
      this.log.error(why === 'mismatch' ? MISMATCH : 'storing failed', { area, reason });
      this.let(failed);
    };
    void this.nodes.tell({ kind: 'who is here', board, area });
    const judge = judging(area, (other) => this.now(board, other));
    return new Room(
      this.store,
      board,
      area,
      mended,
      opened.doc,
      onFailure,
      this.nodes,
      judge,
      this.audits,
      rootsOf(links),
    );
  }

  /** After a while those of these rooms that are open are let go, unless somebody needs them. */
  private lookLater(board: string, names: readonly AreaName[]): void {
    for (const area of names) {
      const room = this.open.get(keyOf(board, area))?.room;
      if (!room) continue;
      clearTimeout(this.idle.get(room));
      const timer = setTimeout(() => {
        this.idle.delete(room);
        if (!this.isNeeded(room)) this.let(room);
      }, this.idleMs);
      this.idle.set(room, timer.unref());
    }
  }

  /** Somebody is in it, or in one that is judged by it. */
  private isNeeded({ board, area, isEmpty }: Room): boolean {
    const names = Object.keys(areas) as AreaName[];
    const rest = names.filter((other) => areasBeside(other).includes(area));
    return !isEmpty || rest.some((other) => this.open.get(keyOf(board, other))?.room?.isEmpty === false);
  }

  /**
   * Out of the list first: whoever comes now loads a room of their own, from a store that has all of this one's commits
   * before it.
   */
  private let(room: Room): void {
    clearTimeout(this.idle.get(room));
    this.idle.delete(room);
    const key = keyOf(room.board, room.area);
    // Of one that has failed, the next may be open already.
    if (this.open.get(key)?.room === room) this.open.delete(key);
    const ending = room
      .end()
      .catch((error: unknown) => this.log.error('a room did not end well', { reason: String(error) }))
      .finally(() => this.ending.delete(ending));
    this.ending.add(ending);
  }
}

const keyOf = (board: string, area: AreaName): string => `${board}/${area}`;
const boardOf = (key: string): string => key.split('/', 1)[0]!;
