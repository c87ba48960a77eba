import { type Claim, ClaimTaken, type Writing } from '../store.ts';
import { type Postgres, UPDATE_CONNECTIONS } from './database.ts';

/** Updates that are committed together at most, and their bytes: one round trip and one fsync for all of them. */
const LARGEST_GROUP = 500;
const LARGEST_BYTES = 4 * 1024 * 1024;

interface Asked {
  board: string;
  area: string;
  update: Uint8Array;
  claims: readonly Claim[];
  writing: Writing;
  resolve(number: number): void;
  reject(error: unknown): void;
}

const APPEND_ONE = 'SELECT append_update($1, $2, $3, $4, $5, $6) AS number';
const APPEND_MANY = `SELECT append_update(board, area, added, claimed::jsonb, written_at, writer) AS number
  FROM unnest($1::text[], $2::text[], $3::bytea[], $4::text[], $5::text[], $6::text[])
    WITH ORDINALITY AS a (board, area, added, claimed, written_at, writer, place)
  ORDER BY place`;

/**
 * Updates go in groups, several at a time, but an area is in only one of them: so its updates keep their order, and where one is
 * not stored, none that was asked for after it is, because it may build on it. What has to wait goes together.
 */
export class Appending {
  private waiting: Asked[] = [];
  /** How many groups are on their way, and the areas in them. */
  private groups = 0;
  private readonly busy = new Set<string>();
  private readonly unsettled = new Set<Promise<unknown>>();

  constructor(private readonly db: Postgres) {}

  add(
    board: string,
    area: string,
    update: Uint8Array,
    claims: readonly Claim[],
    writing: Writing,
  ): Promise<number> {
    const added = new Promise<number>((resolve, reject) => {
      this.waiting.push({ board, area, update, claims, writing, resolve, reject });
    });
    this.unsettled.add(added);
    const forget = () => this.unsettled.delete(added);
    added.then(forget, forget);
    // What is asked for in the same step goes together.
    queueMicrotask(() => this.sendOn());
    return added;
  }

  /** Resolves when all that was asked for until now has settled. */
  async settled(): Promise<void> {
    await Promise.allSettled(this.unsettled);
  }

  private sendOn(): void {
    while (this.groups < UPDATE_CONNECTIONS) {
      const group = this.nextGroup();
      if (group.length === 0) return;
      const areas = new Set(group.map(keyOf));
      for (const area of areas) this.busy.add(area);
      this.groups += 1;
      void this.commit(group).then(() => {
        this.groups -= 1;
        for (const area of areas) this.busy.delete(area);
        this.sendOn();
      });
    }
  }

  private nextGroup(): Asked[] {
    const group: Asked[] = [];
    const later: Asked[] = [];
    const closed = new Set(this.busy);
    let bytes = 0;
    for (const asked of this.waiting) {
      const isFull = group.length >= LARGEST_GROUP || bytes >= LARGEST_BYTES;
      if (isFull || closed.has(keyOf(asked))) {
        later.push(asked);
        continue;
      }
      group.push(asked);
      bytes += asked.update.length;
      // It may be refused: what comes after it in the area waits until that is known.
      if (asked.claims.length > 0) closed.add(keyOf(asked));
    }
    this.waiting = later;
    return group;
  }

  private async commit(group: Asked[]): Promise<void> {
    try {
      const numbers = await this.store(group);
      group.forEach((asked, index) => {
        const number = numbers[index]!;
        if (number > 0) asked.resolve(number);
        else
          this.refuse([asked], number === 0 ? new Error('This board is no longer there.') : new ClaimTaken());
      });
    } catch (error) {
      if (group.length === 1 || !isRefusal(error)) this.refuse(group, error);
      // Nothing of the group was stored because one of it cannot be. Each has its own answer then, in the same order.
      else {
        this.waiting = [...group.slice(1), ...this.waiting];
        await this.commit(group.slice(0, 1));
      }
    }
  }

  /** And with them whatever was asked for after them in their areas. */
  private refuse(group: Asked[], error: unknown): void {
    const areas = new Set(group.map(keyOf));
    const after = this.waiting.filter((asked) => areas.has(keyOf(asked)));
    this.waiting = this.waiting.filter((asked) => !areas.has(keyOf(asked)));
    for (const { reject } of [...group, ...after]) reject(error);
  }

  private async store(group: Asked[]): Promise<number[]> {
    // Every node locks areas in the same order, so that none waits for another that waits for it.
    const places = group.map((_, index) => index).sort((a, b) => compare(group[a]!, group[b]!) || a - b);
    const sorted = places.map((place) => group[place]!);
    const added = sorted.map(({ board, area, update, claims, writing }) => [
      board,
      area,
      Buffer.from(update.buffer, update.byteOffset, update.length),
      JSON.stringify(claims),
      writing.at,
      writing.membership,
    ]);
    const { rows } =
      added.length === 1
        ? await this.db.append('append one', APPEND_ONE, added[0]!)
        : await this.db.append(
            'append many',
            APPEND_MANY,
            [0, 1, 2, 3, 4, 5].map((column) => added.map((row) => row[column])),
          );
    const numbers: number[] = [];
    places.forEach((place, index) => {
      numbers[place] = Number(rows[index].number);
    });
    return numbers;
  }
}

const keyOf = ({ board, area }: Asked): string => `${board}/${area}`;

const compare = (a: Asked, b: Asked): number => {
  const [left, right] = [keyOf(a), keyOf(b)];
  return left < right ? -1 : left > right ? 1 : 0;
};

/** Classes of the standard's codes after which nothing was stored: data, integrity, a transaction undone (deadlock). */
const isRefusal = (error: unknown): boolean => /^(22|23|40)/.test((error as { code?: string }).code ?? '');
