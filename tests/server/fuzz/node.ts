import type { Nodes, Told } from '../../../lib/store/nodes.ts';
import type { AreaTable, SharedStore, Store } from '../../../lib/store/store.ts';
import type { Audits } from '../../../server/sync/audit.ts';
import { Following } from '../../../server/sync/following.ts';
import type { SyncServer } from '../../../server/sync/server.ts';
import type { MemoryStore } from '../attacks/memoryStore.ts';
import { Site } from '../attacks/site.ts';

/** A snapshot each few dozen updates, so that runs have many. */
const OFTEN: Audits = { each: 10, share: 1, long: 24 };
/** Empty rooms end only with their server: a timer of theirs would make runs of one seed differ. */
const NEVER_MS = 2 ** 30;

/** One of several servers on a store, which may be dropped at any moment: from then on it can neither store nor tell anything. */
export class FuzzedNode {
  readonly site: Site;
  /** Messages to it that are on the line. */
  readonly inbox: Told[] = [];
  private isDead = false;
  /** What its store has been asked and has not done or not answered yet, in order. */
  private readonly work: (() => void)[] = [];
  private onTold: (message: Told) => void = () => undefined;
  private onConnected: () => void = () => undefined;
  private readonly following: Following;

  constructor(
    private readonly kept: MemoryStore,
    others: () => readonly FuzzedNode[],
  ) {
    const nodes: Nodes = {
      tell: async (message) => {
        if (this.isDead) return;
        for (const other of others()) if (other !== this) other.inbox.push(message);
      },
      listen: (onTold, onConnected) => {
        this.onTold = onTold;
        this.onConnected = onConnected;
      },
      connected: true,
      close: async () => undefined,
    };
    this.site = new Site(this.store(), { nodes, idleMs: NEVER_MS, audits: OFTEN });
    const sync = { dropLink: () => undefined, dropInstructor: () => undefined, openAnew: () => undefined };
    const log = { info: () => undefined, error: (event: string) => void this.site.logged.push(event) };
    this.following = new Following(
      {} as SharedStore,
      nodes,
      this.site.rooms,
      sync as unknown as SyncServer,
      log,
      false,
    );
  }

  get waits(): boolean {
    return this.work.length > 0 || this.inbox.length > 0;
  }

  /** The store does the next thing that it was asked for, or answers the next one. */
  commit(): void {
    this.work.shift()?.();
  }

  /** The next message from another node comes in, or is lost. */
  hear(isLost: boolean): void {
    const message = this.inbox.shift();
    if (message && !isLost) this.onTold(message);
  }

  /** As it does every few seconds, and when the line comes back. */
  look(): void {
    this.onConnected();
  }

  /** Without a word, as by kill -9. */
  drop(): void {
    this.isDead = true;
    this.work.length = 0;
    this.inbox.length = 0;
    this.following.stop();
  }

  /** As by SIGTERM. Resolves when all that was accepted is durable; the caller lets the store go on meanwhile. */
  async stop(): Promise<void> {
    await this.site.stop();
    this.drop();
  }

  private store(): Store {
    const { areas } = this.kept.port;
    /** Done when its turn comes, and answered at another: in between the server may be dropped. */
    const inTurn =
      <W extends unknown[], T>(act: (...words: W) => Promise<T>) =>
      async (...words: W): Promise<T> => {
        await this.turn();
        const done = act(...words);
        done.catch(() => undefined);
        await this.turn();
        return done;
      };
    const table: Pick<AreaTable, 'append' | 'compact'> = {
      append: inTurn(areas.append),
      compact: inTurn(areas.compact),
    };
    return { ...this.kept.port, areas: { ...areas, ...table } };
  }

  /** Never comes once the server is dropped. */
  private turn(): Promise<void> {
    return new Promise((resolve) => {
      if (!this.isDead) this.work.push(resolve);
    });
  }
}
