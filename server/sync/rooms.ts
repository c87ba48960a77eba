import { readArea } from '../../lib/board/area.ts';
import { openArea } from '../../lib/board/open.ts';
import type { AreaData } from '../../lib/core/areas/area.ts';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';
import { type Nodes, noOthers } from '../../lib/store/nodes.ts';
import type { Store } from '../../lib/store/store.ts';
import type { Log } from '../log.ts';
import { mend } from './mend.ts';
import { Room } from './room.ts';

/** How long an empty room stays, for somebody who reloads the page. */
const IDLE_MS = 20_000;

/** The open rooms. Each is loaded once, and everybody who comes meanwhile waits for the same promise. */
export class Rooms {
  private readonly open = new Map<string, Promise<Room>>();
  private readonly idle = new Map<Room, NodeJS.Timeout>();
  private readonly ending = new Set<Promise<void>>();

  constructor(
    private readonly store: Store,
    private readonly log: Log,
    private readonly idleMs = IDLE_MS,
    private readonly nodes: Nodes = noOthers,
    /** Part of an area could not be used and was set aside. */
    private readonly onSetAside: (kind: string) => void = () => {},
  ) {}

  get count(): number {
    return this.open.size;
  }

  /** The room, once it is loaded, when somebody has it open. */
  async find(board: string, area: AreaName): Promise<Room | null> {
    return (await this.open.get(keyOf(board, area))?.catch(() => null)) ?? null;
  }

  /** Those that somebody has open, or is about to. */
  boards(): string[] {
    return [...new Set([...this.open.keys()].map((key) => key.split('/', 1)[0]!))];
  }

  async all(): Promise<Room[]> {
    const rooms = await Promise.all([...this.open.values()].map((loading) => loading.catch(() => null)));
    return rooms.filter((room) => room !== null);
  }

  /** Whoever enters joins in the same step, or not at all: a room without members ends after a while. */
  async enter(board: string, area: AreaName): Promise<Room> {
    const key = keyOf(board, area);
    let loading = this.open.get(key);
    if (!loading) {
      loading = this.load(board, area);
      this.open.set(key, loading);
      loading.catch(() => this.open.delete(key));
    }
    const room = await loading;
    this.waitForIdle(room);
    return room;
  }

  /** To be called when a member has left. */
  waitForIdle(room: Room): void {
    if (!room.isOpen) return;
    clearTimeout(this.idle.get(room));
    const timer = setTimeout(() => {
      this.idle.delete(room);
      if (room.isEmpty) this.let(room);
    }, this.idleMs);
    this.idle.set(room, timer.unref());
  }

  /** An area as plain data, and durable; opens no room for it. */
  async read<A extends AreaName>(board: string, area: A): Promise<AreaData<(typeof areas)[A]>> {
    const shape: (typeof areas)[A] = areas[area];
    const room = await this.open.get(keyOf(board, area));
    if (room) {
      // Another node may be ahead of it.
      if (this.nodes !== noOthers) await room.follow();
      const data = readArea(room.doc, shape);
      await room.settled;
      return data;
    }
    // As a room would open it, but nothing is set aside or stored: that is done when somebody comes.
    const { doc } = openArea(shape, (await this.store.areas.load(board, area)).updates);
    const data = readArea(doc, shape);
    doc.destroy();
    return data;
  }

  /** Ends the rooms of a board that is removed. */
  async drop(board: string): Promise<void> {
    for (const area of Object.keys(areas) as AreaName[]) {
      const room = await this.open.get(keyOf(board, area))?.catch(() => null);
      if (!room) continue;
      room.closeAll('gone');
      this.let(room);
    }
    await Promise.all(this.ending);
  }

  /** Resolves when all that was accepted is durable and every document is let go. */
  async stop(): Promise<void> {
    for (const loading of [...this.open.values()]) {
      const room = await loading.catch(() => null);
      if (!room) continue;
      room.closeAll('stopping');
      this.let(room);
    }
    await Promise.all(this.ending);
  }

  private async load(board: string, area: AreaName): Promise<Room> {
    const stored = await this.store.areas.load(board, area);
    const opened = openArea(areas[area], stored.updates);
    const mended = await mend(this.store, { board, area }, stored, opened);
    for (const { kind, reason } of opened.unusable) {
      this.log.error('set aside', { area, kind, reason });
      this.onSetAside(kind);
    }
    const onFailure = (failed: Room, reason: string) => {
      this.log.error('storing failed', { area, reason });
      this.let(failed);
    };
    void this.nodes.tell({ kind: 'who is here', board, area });
    return new Room(this.store, board, area, mended, opened.doc, onFailure, this.nodes);
  }

  /**
   * Out of the list first: whoever comes now loads a room of their own, from a store that has all of this one's commits
   * before it.
   */
  private let(room: Room): void {
    clearTimeout(this.idle.get(room));
    this.idle.delete(room);
    this.open.delete(keyOf(room.board, room.area));
    const ending = room
      .end()
      .catch((error: unknown) => this.log.error('a room did not end well', { reason: String(error) }))
      .finally(() => this.ending.delete(ending));
    this.ending.add(ending);
  }
}

const keyOf = (board: string, area: AreaName): string => `${board}/${area}`;
