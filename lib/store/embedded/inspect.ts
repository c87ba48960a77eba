import Database from 'libsql';
import type { AreaName } from '../../core/areas/board.ts';
import { LaterStore } from '../later.ts';
import { migrations } from './schema.ts';

/** An area as it is kept, with its history. */
export interface KeptArea {
  board: string;
  area: AreaName;
  snapshot: Uint8Array | null;
  /** Number of the last update that the snapshot holds. */
  through: number;
  /** The log lacks the updates up to this number. */
  trimmed: number;
  /** Whether something was set aside: then the log and the snapshots need not say the same. */
  hasAside: boolean;
  /** Earlier snapshots, the oldest first. */
  bases: { through: number; bytes: Uint8Array }[];
  log: { number: number; bytes: Uint8Array }[];
}

export interface KeptFile {
  id: string;
  bytes: number;
}

type Fields = Record<string, unknown>;
const bytesOf = (value: unknown): Uint8Array => new Uint8Array(value as ArrayBuffer);

/**
 * A database file, only read, also while a server writes it. Throws what the driver says where it is none, and `LaterStore`.
 */
export class Inspection {
  private readonly db: Database.Database;
  /** Whether its tables are of an earlier version: then it can be copied, but areas and files cannot be read. */
  readonly isEarlier: boolean;

  constructor(file: string) {
    this.db = new Database(file, { readonly: true });
    try {
      const [found] = this.rows('PRAGMA user_version');
      const version = Number(found!.user_version);
      if (version > migrations.length) throw new LaterStore(version, migrations.length);
      this.isEarlier = version < migrations.length;
    } catch (error) {
      this.db.close();
      throw error;
    }
  }

  /** What SQLite itself finds wrong (sqlite.org/pragma.html, integrity_check and foreign_key_check), each in a sentence. */
  damage(): string[] {
    const found = this.rows('PRAGMA integrity_check').map((row) => String(row.integrity_check));
    const torn = new Map<string, number>();
    for (const { table, parent } of this.rows('PRAGMA foreign_key_check')) {
      const key = `${table} that belong to ${parent}`;
      torn.set(key, (torn.get(key) ?? 0) + 1);
    }
    return [
      ...found.filter((word) => word !== 'ok').map((word) => `The database is damaged: ${word}.`),
      ...[...torn].map(([key, count]) => `The database has ${count} ${key} that are not there.`),
    ];
  }

  /** Writes a copy, as of one moment, to a new file. */
  copy(to: string): void {
    this.db.prepare('VACUUM INTO ?').run([to]);
  }

  get boards(): number {
    return Number(this.rows('SELECT count(*) AS count FROM boards')[0]!.count);
  }

  files(): KeptFile[] {
    return this.rows('SELECT id, bytes FROM files ORDER BY id').map(({ id, bytes }) => ({
      id: String(id),
      bytes: Number(bytes),
    }));
  }

  /** One area after the other; of each all is as of one moment. */
  *areas(): Generator<KeptArea> {
    for (const { board, area } of this.rows('SELECT board, area FROM areas ORDER BY board, area')) {
      this.db.exec('BEGIN');
      try {
        const of = [board, area];
        const [row] = this.rows(
          'SELECT snapshot, through, trimmed FROM areas WHERE board = ? AND area = ?',
          of,
        );
        // Removed since.
        if (!row) continue;
        const from = (table: string, order: string) =>
          this.rows(
            `SELECT ${order}, bytes FROM ${table} WHERE board = ? AND area = ? ORDER BY ${order}`,
            of,
          );
        yield {
          board: String(board),
          area: area as AreaName,
          snapshot: row.snapshot === null ? null : bytesOf(row.snapshot),
          through: Number(row.through),
          trimmed: Number(row.trimmed),
          hasAside: this.rows('SELECT 1 FROM set_aside WHERE board = ? AND area = ? LIMIT 1', of).length > 0,
          bases: from('bases', 'through').map(({ through, bytes }) => ({
            through: Number(through),
            bytes: bytesOf(bytes),
          })),
          log: from('updates', 'number').map(({ number, bytes }) => ({
            number: Number(number),
            bytes: bytesOf(bytes),
          })),
        };
      } finally {
        this.db.exec('COMMIT');
      }
    }
  }

  close(): void {
    this.db.close();
  }

  private rows(sql: string, values: unknown[] = []): Fields[] {
    return this.db.prepare(sql).all(values) as Fields[];
  }
}
