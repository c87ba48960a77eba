import { type Claim, ClaimTaken } from '../store.ts';
import type { Postgres } from './database.ts';

/** Updates that are committed together at most, and their bytes: one round trip and one fsync for all of them. */
const LARGEST_GROUP = 500;
const LARGEST_BYTES = 4 * 1024 * 1024;

interface Asked {
  board: string;
  area: string;
  update: Uint8Array;
  claims: readonly Claim[];
  resolve(number: number): void;
  reject(error: unknown): void;
}

const APPEND = `SELECT append_update(board, area, added, claimed::jsonb) AS number
  FROM unnest($1::text[], $2::text[], $3::bytea[], $4::text[]) WITH ORDINALITY AS a (board, area, added, claimed, place)
  ORDER BY place`;

/** One group is on its way at a time, so that this node's updates keep their order; what is asked meanwhile waits for the next. */
export class Appending {
  private waiting: Asked[] = [];
  private running = false;
  private last: Promise<unknown> = Promise.resolve();

  constructor(private readonly db: Postgres) {}

  add(board: string, area: string, update: Uint8Array, claims: readonly Claim[]): Promise<number> {
    const added = new Promise<number>((resolve, reject) => {
      this.waiting.push({ board, area, update, claims, resolve, reject });
    });
    this.last = added.catch(() => undefined);
    if (!this.running) void this.run();
    return added;
  }

  /** Resolves when all that was asked for until now has settled. */
  async settled(): Promise<void> {
    await this.last;
  }

  private async run(): Promise<void> {
    this.running = true;
    // What is asked for in the same step goes together.
    await Promise.resolve();
    while (this.waiting.length > 0) await this.commit(this.nextGroup());
    this.running = false;
  }

  private nextGroup(): Asked[] {
    let bytes = 0;
    let count = 0;
    while (count < this.waiting.length && count < LARGEST_GROUP && bytes < LARGEST_BYTES)
      bytes += this.waiting[count++]!.update.length;
    return this.waiting.splice(0, count);
  }

  private async commit(group: Asked[]): Promise<void> {
    try {
      const numbers = await this.store(group);
      group.forEach((asked, index) => {
        settle(asked, numbers[index]!);
      });
    } catch (error) {
      // Nothing of the group was stored because one of it cannot be: then each has its own answer.
      if (group.length > 1 && isRefusal(error)) for (const asked of group) await this.commit([asked]);
      else for (const { reject } of group) reject(error);
    }
  }

  private async store(group: Asked[]): Promise<number[]> {
    // Every node locks areas in the same order, so that none waits for another that waits for it.
    const places = group.map((_, index) => index).sort((a, b) => compare(group[a]!, group[b]!) || a - b);
    const sorted = places.map((place) => group[place]!);
    const { rows } = await this.db.query(
      APPEND,
      [
        sorted.map(({ board }) => board),
        sorted.map(({ area }) => area),
        sorted.map(({ update }) => Buffer.from(update.buffer, update.byteOffset, update.length)),
        sorted.map(({ claims }) => JSON.stringify(claims)),
      ],
      'append',
    );
    const numbers: number[] = [];
    places.forEach((place, index) => {
      numbers[place] = Number(rows[index].number);
    });
    return numbers;
  }
}

function settle({ resolve, reject }: Asked, number: number): void {
  if (number > 0) resolve(number);
  else reject(number === 0 ? new Error('This board is no longer there.') : new ClaimTaken());
}

const compare = (a: Asked, b: Asked): number => {
  const [left, right] = [`${a.board}/${a.area}`, `${b.board}/${b.area}`];
  return left < right ? -1 : left > right ? 1 : 0;
};

/** Classes of the standard's codes after which nothing was stored: data, integrity, a transaction undone (deadlock). */
const isRefusal = (error: unknown): boolean => /^(22|23|40)/.test((error as { code?: string }).code ?? '');
