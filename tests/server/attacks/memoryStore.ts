import {
  type Claim,
  ClaimTaken,
  type SetAside,
  type Store,
  type StoredArea,
} from '../../../lib/store/store.ts';

interface Kept {
  snapshot: Uint8Array | null;
  through: number;
  log: { number: number; update: Uint8Array }[];
  head: number;
  claims: Map<number, string>;
}

/** The areas of a store, kept in this process: what a disk would have kept when the server is dropped. Several servers may share it. */
export class MemoryStore {
  private readonly kept = new Map<string, Kept>();
  readonly setAside: SetAside[] = [];

  /** The port, as one server sees it. */
  readonly port = {
    boards: { has: async () => true, list: async () => [] },
    areas: {
      load: async (board: string, area: string, after = 0): Promise<StoredArea> => {
        const { snapshot, through, log, head, claims } = this.of(board, area);
        const loose = log.filter(({ number }) => number > after).map(({ update }) => update);
        return {
          updates: snapshot && through > after ? [snapshot, ...loose] : loose,
          head,
          loose: loose.length,
          claims: [...claims].map(([client, membership]) => ({ client, membership })),
        };
      },
      append: async (board: string, area: string, update: Uint8Array, claims: readonly Claim[]) => {
        const kept = this.of(board, area);
        if (claims.some(({ client, membership }) => (kept.claims.get(client) ?? membership) !== membership))
          throw new ClaimTaken();
        for (const { client, membership } of claims) kept.claims.set(client, membership);
        kept.head += 1;
        kept.log.push({ number: kept.head, update: update.slice() });
        return kept.head;
      },
      compact: async (board: string, area: string, through: number, snapshot: Uint8Array) => {
        const kept = this.of(board, area);
        if (through <= kept.through) return;
        kept.snapshot = snapshot.slice();
        kept.through = through;
        kept.log = kept.log.filter(({ number }) => number > through);
      },
      setAside: async (board: string, aside: SetAside) => {
        this.setAside.push(aside);
        for (const kept of [this.of(board, aside.area)]) {
          const same = (bytes: Uint8Array | null) =>
            bytes !== null && Buffer.compare(bytes, aside.bytes) === 0;
          kept.log = kept.log.filter(({ update }) => !same(update));
          if (same(kept.snapshot)) kept.snapshot = null;
        }
      },
      aside: async () => this.setAside,
    },
    links: { everOf: async () => [] },
  } as unknown as Store;

  head(board: string, area: string): number {
    return this.of(board, area).head;
  }

  private of(board: string, area: string): Kept {
    const key = `${board}/${area}`;
    const known = this.kept.get(key);
    if (known) return known;
    const made = { snapshot: null, through: 0, log: [], head: 0, claims: new Map<number, string>() };
    this.kept.set(key, made);
    return made;
  }
}
