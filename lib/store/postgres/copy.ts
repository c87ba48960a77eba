import { createWriteStream, existsSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type pg from 'pg';
import { DATABASE, FILES } from '../embedded/open.ts';
import { DatabaseThread } from '../embedded/thread.ts';
import { type Database, databaseOf, type Row, type Statement, statement } from '../tables/database.ts';
import { execute, Postgres } from './database.ts';
import { addPieces, pieces } from './files.ts';

/** Every table after those that it refers to; its first `key` columns tell its rows apart and in order, none where 0. */
export const tables: { name: string; key: number; columns: string[] }[] = [
  { name: 'boards', key: 1, columns: ['id', 'made_at', 'listed', 'summary'] },
  {
    name: 'areas',
    key: 2,
    columns: ['board', 'area', 'head', 'snapshot', 'through', 'at', 'trimmed', 'told_from'],
  },
  { name: 'updates', key: 3, columns: ['board', 'area', 'number', 'bytes', 'at', 'membership'] },
  { name: 'bases', key: 3, columns: ['board', 'area', 'through', 'at', 'bytes'] },
  { name: 'claims', key: 3, columns: ['board', 'area', 'client', 'membership'] },
  { name: 'set_aside', key: 0, columns: ['board', 'area', 'bytes', 'reason', 'at'] },
  {
    name: 'links',
    key: 1,
    columns: ['id', 'board', 'role', 'hash', 'made_at', 'ends_at', 'revoked_at', 'parent', 'frozen_at'],
  },
  { name: 'sessions', key: 1, columns: ['hash', 'made_at', 'instructor_until'] },
  { name: 'grants', key: 2, columns: ['session', 'link'] },
  { name: 'files', key: 1, columns: ['id', 'bytes', 'type'] },
  { name: 'board_files', key: 2, columns: ['board', 'file'] },
  { name: 'calendars', key: 1, columns: ['hash', 'board', 'role', 'link', 'membership'] },
  { name: 'settings', key: 1, columns: ['key', 'value'] },
];
/** Rows that are in memory at a time; one may be a whole area. */
const PAGE = 50;

/** Writes everything as an embedded store's folder would hold it, as of one moment, while nodes go on writing. */
export async function copyOut(url: string, folder: string): Promise<{ audioFiles: number }> {
  return withDatabases(url, folder, async (db, embedded) => {
    await mkdir(join(folder, FILES));
    return db.transaction(async (client) => {
      const shared = databaseIn(client);
      await copyTables(shared, embedded);
      const files = await shared.rows(statement('SELECT id, bytes FROM files ORDER BY id'));
      for (const { id, bytes } of files) {
        const reading = pieces(client, String(id), 0, Number(bytes) - 1);
        await pipeline(
          Readable.from(reading, { highWaterMark: 1 }),
          createWriteStream(join(folder, FILES, String(id))),
        );
      }
      return { audioFiles: files.length };
    }, 'BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
  });
}

/** Fills an empty database from such a folder, all or nothing; null, and nothing done, where something is there. */
export async function copyIn(url: string, folder: string): Promise<{ audioFiles: number } | null> {
  return withDatabases(url, folder, (db, embedded) =>
    db.transaction(async (client) => {
      const shared = databaseIn(client);
      for (const { name } of tables)
        if (await shared.row(statement(`SELECT 1 FROM ${name} LIMIT 1`))) return null;
      await copyTables(embedded, shared);
      let audioFiles = 0;
      for (const { id } of await shared.rows(statement('SELECT id FROM files ORDER BY id'))) {
        const path = join(folder, FILES, String(id));
        // The last board that used it was deleted while the backup was made.
        if (!existsSync(path)) continue;
        await addPieces(client, String(id), path);
        audioFiles += 1;
      }
      return { audioFiles };
    }),
  );
}

async function withDatabases<T>(
  url: string,
  folder: string,
  work: (db: Postgres, embedded: Database) => Promise<T>,
): Promise<T> {
  const db = new Postgres(url);
  try {
    await db.migrate();
    const thread = await DatabaseThread.open({ file: join(folder, DATABASE), serving: false });
    return await work(db, thread.database).finally(() => thread.close());
  } finally {
    await db.close();
  }
}

const databaseIn = (client: pg.PoolClient): Database =>
  databaseOf(async (statements) => {
    const results = [];
    for (const one of statements) results.push(await execute(client, one));
    return results;
  });

async function copyTables(from: Database, to: Database): Promise<void> {
  for (const table of tables)
    for (let rows = await from.rows(pageAfter(table, null)); rows.length > 0; ) {
      await to.run([inserting(table, rows)]);
      if (table.key === 0 || rows.length < PAGE) break;
      rows = await from.rows(pageAfter(table, rows.at(-1)!));
    }
}

function pageAfter({ name, key, columns }: (typeof tables)[number], last: Row | null): Statement {
  const all = `SELECT ${columns.join(', ')} FROM ${name}`;
  if (key === 0) return statement(all);
  const order = columns.slice(0, key);
  const after = last === null ? '' : `WHERE (${order.join(', ')}) > (${order.map(() => '?').join(', ')})`;
  const values = last === null ? [] : order.map((column) => last[column]!);
  return statement(`${all} ${after} ORDER BY ${order.join(', ')} LIMIT ${PAGE}`, ...values);
}

/** Whole numbers come from PostgreSQL as text, and each database takes them so. */
function inserting({ name, columns }: (typeof tables)[number], rows: Row[]): Statement {
  const places = `(${columns.map(() => '?').join(', ')})`;
  return statement(
    `INSERT INTO ${name} (${columns.join(', ')}) VALUES ${rows.map(() => places).join(', ')}`,
    ...rows.flatMap((row) => columns.map((column) => row[column]!)),
  );
}
