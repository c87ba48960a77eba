import type { AreaName } from '../../lib/core/areas/board.ts';
import type { Nodes, Told } from '../../lib/store/nodes.ts';
import type { SharedStore } from '../../lib/store/store.ts';
import type { Log } from '../log.ts';
import type { Room } from './room.ts';
import type { Rooms } from './rooms.ts';
import type { SyncServer } from './server.ts';

/** How often the store is asked what open connections rest on, and whether open rooms are behind. */
const ENDED_MS = 700;
const BEHIND_MS = 3000;

/**
 * Follows what other nodes do to the same boards. Messages make it quick; the looks at the store make it sure, whether
 * messages come or not.
 */
export class Following {
  private readonly timers: NodeJS.Timeout[];
  private failing = false;

  constructor(
    private readonly store: SharedStore,
    nodes: Nodes,
    private readonly rooms: Rooms,
    private readonly sync: SyncServer,
    private readonly log: Log,
    looks = true,
  ) {
    nodes.listen(
      (message) => this.logged(this.hear(message)),
      () => this.logged(this.meet()),
    );
    this.timers = !looks
      ? []
      : [
          inTurns(() => this.logged(this.lookForEnded()), ENDED_MS),
          inTurns(() => this.logged(this.lookForBehind()), BEHIND_MS),
        ];
  }

  stop(): void {
    for (const timer of this.timers) clearInterval(timer);
  }

  private async hear(message: Told): Promise<void> {
    switch (message.kind) {
      case 'stored':
        await (await this.rooms.find(message.board, message.area))?.hearStored(message);
        break;
      case 'here':
        (await this.rooms.find(message.board, message.area))?.hear(message.people);
        break;
      case 'who is here':
        (await this.rooms.find(message.board, message.area))?.tellWhoIsHere();
        break;
      case 'revoked':
        this.sync.dropLink(message.link);
        break;
      case 'frozen':
        this.sync.openAnew(message.link);
        break;
      case 'signed out':
        this.sync.dropInstructor(message.session);
        break;
      case 'removed':
        await this.rooms.drop(message.board);
    }
  }

  /** The line has just come up: whatever was said before, this node has not heard it. */
  private async meet(): Promise<void> {
    for (const room of await this.rooms.all()) {
      room.meet();
      await room.follow();
    }
  }

  private async lookForEnded(): Promise<void> {
    const open = { boards: this.rooms.boards(), ...this.sync.standing() };
    if (Object.values(open).every((ids) => ids.length === 0)) return;
    const ended = await this.store.ended(open);
    // The board first: who comes by a link of it is told that the board is gone.
    for (const board of ended.boards) await this.rooms.drop(board);
    for (const link of ended.links) this.sync.dropLink(link);
    for (const link of ended.frozen) this.sync.openAnew(link);
    for (const session of ended.sessions) this.sync.dropInstructor(session);
  }

  private async lookForBehind(): Promise<void> {
    const open = (await this.rooms.all()).map(({ board, area, at }: Room) => ({ board, area, head: at }));
    for (const { board, area } of await this.store.behind(open))
      await (await this.rooms.find(board, area as AreaName))?.follow();
  }

  /** Once for as long as it goes on failing. */
  private async logged(work: Promise<void>): Promise<void> {
    try {
      await work;
      this.failing = false;
    } catch (error) {
      if (!this.failing) this.log.error('following other nodes failed', { reason: String(error) });
      this.failing = true;
    }
  }
}

/** Leaves out a turn while the one before still runs. */
function inTurns(work: () => Promise<void>, ms: number): NodeJS.Timeout {
  let running = false;
  return setInterval(() => {
    if (running) return;
    running = true;
    void work().finally(() => {
      running = false;
    });
  }, ms).unref();
}
