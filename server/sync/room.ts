import * as Y from 'yjs';
import { AreaGuard, LARGEST_AREA } from '../../lib/board/guard.ts';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';
import { bad, good, type Result } from '../../lib/core/result.ts';
import type { Closing } from '../../lib/protocol/close.ts';
import type { Store, StoredArea } from '../../lib/store/store.ts';
import { updateFrame } from './frames.ts';
import { Owners } from './owners.ts';
import { Presence } from './presence.ts';

/** An end of the room: a connection, as the room sees it. */
export interface Member {
  send(frame: Uint8Array): void;
  close(closing: Closing): void;
}

/** Updates beside the snapshot from which on a closing room writes a new one. */
const LOOSE = 50;

/**
 * One area of one board while somebody has it open. What holds:
 * 1. An update is checked, applied and given to the store in one step without an await, so all three have one order.
 * 2. It is acknowledged and sent on only after its commit. Whoever asks for the state is told after the commits that it
 *    holds. So nobody ever sees what a crash could take back.
 * 3. It is not sent back to its sender.
 * 4. When storing fails, the document is ahead of what is kept: the room ends, everybody comes back to a new one.
 */
export class Room {
  readonly presence = new Presence();
  private readonly guard: AreaGuard;
  private readonly owners: Owners;
  private readonly members = new Set<Member>();
  private lastCommit: Promise<void> = Promise.resolve();
  private head: number;
  private loose: number;
  private bytes: number;
  private state: 'open' | 'failed' | 'closed' = 'open';

  constructor(
    private readonly store: Store,
    readonly board: string,
    readonly area: AreaName,
    stored: StoredArea,
    private readonly onFailure: (room: Room, reason: string) => void,
  ) {
    this.guard = new AreaGuard(areas[area], stored.updates);
    this.owners = new Owners(stored.claims);
    this.head = stored.head;
    this.loose = stored.loose;
    this.bytes = stored.updates.reduce((sum, update) => sum + update.length, 0);
  }

  get doc(): Y.Doc {
    return this.guard.doc;
  }

  get isOpen(): boolean {
    return this.state === 'open';
  }

  get isEmpty(): boolean {
    return this.members.size === 0;
  }

  /** Resolves when all that the document holds now is durable. */
  get settled(): Promise<void> {
    return this.lastCommit;
  }

  join(member: Member): void {
    this.members.add(member);
  }

  leave(member: Member): void {
    this.members.delete(member);
  }

  /** To everybody here, except one. */
  tell(frame: Uint8Array, except: Member | null = null): void {
    for (const member of this.members) if (member !== except) member.send(frame);
  }

  /** The promise resolves when the update is durable and was sent on. Throws on what cannot be read. */
  write(update: Uint8Array, membership: string, from: Member | null): Result<Promise<void>> {
    if (this.state !== 'open') return bad('failed', 'This room has ended.');
    if (!this.hasSpaceFor(update)) return bad('too large', 'This is more than a board can hold.');
    const claims = this.owners.claims(this.doc, update, membership);
    if (!claims.ok) return claims;
    const checked = this.guard.check(update, { membership });
    if (!checked.ok) return checked;
    if (!checked.value.changed) return good(this.settled);
    this.owners.add(claims.value);
    this.bytes += update.length;
    this.lastCommit = this.store.areas.append(this.board, this.area, update, claims.value).then(
      (head) => {
        this.head = head;
        this.loose += 1;
        this.tell(updateFrame(update), from);
      },
      (error: unknown) => {
        this.fail(String(error));
        throw error;
      },
    );
    this.lastCommit.catch(() => undefined);
    return good(this.lastCommit);
  }

  /** Sends everybody away. */
  closeAll(closing: Closing): void {
    for (const member of [...this.members]) member.close(closing);
  }

  /** Lets the document go, with a snapshot in place of a long log. */
  async end(): Promise<void> {
    if (this.state === 'closed') return;
    const whole = this.state === 'open';
    this.state = 'closed';
    const durable = await this.settled.then(
      () => true,
      () => false,
    );
    try {
      if (whole && durable && this.loose >= LOOSE)
        await this.store.areas.compact(this.board, this.area, this.head, Y.encodeStateAsUpdate(this.doc));
    } finally {
      this.guard.destroy();
    }
  }

  private fail(reason: string): void {
    if (this.state !== 'open') return;
    this.state = 'failed';
    this.onFailure(this, reason);
    this.closeAll('failed');
  }

  /** The log's size is known at once, the document's own only by encoding it. */
  private hasSpaceFor(update: Uint8Array): boolean {
    if (this.bytes + update.length <= LARGEST_AREA) return true;
    this.bytes = Y.encodeStateAsUpdate(this.doc).length;
    return this.bytes + update.length <= LARGEST_AREA;
  }
}
