import { createReadStream } from 'node:fs';
import { Readable } from 'node:stream';
import type pg from 'pg';
import type { FileTable } from '../store.ts';
import { addingFile, addingToBoard, fileRows, removingUnused } from '../tables/files.ts';
import { bytesOf, execute, type Postgres } from './database.ts';

/** Bytes of a piece: what one node holds in memory of a file, in either direction. */
const PIECE = 1 << 20;
/** Any number of our own: while one node removes unused files, no other adds one. */
const FILES = 4_310_016;

/**
 * Audio files in pieces beside the rows that name them: any node serves any board without a shared folder to set up, whoever
 * adds or removes a file does so in one transaction, and a backup of the database holds everything.
 */
export function fileTable(db: Postgres): FileTable {
  return {
    ...fileRows(db.database),
    add: (board, file, path) =>
      db.transaction(async (client) => {
        await client.query('SELECT pg_advisory_xact_lock_shared($1)', [FILES]);
        const { changes } = await execute(client, addingFile(file));
        if (changes > 0) await addPieces(client, file.id, path);
        await execute(client, addingToBoard(board, file.id));
      }),
    read: (id, from, to) =>
      Readable.toWeb(
        Readable.from(pieces(db.pool, id, from, to), { highWaterMark: 1 }),
      ) as ReadableStream<Uint8Array>,
    removeUnused: () =>
      db.transaction(async (client) => {
        // While somebody uploads it is left for the next time.
        const { rows: tried } = await client.query('SELECT pg_try_advisory_xact_lock($1) AS free', [FILES]);
        if (!tried[0].free) return [];
        const { rows } = await execute(client, removingUnused());
        return rows.map(({ id }) => String(id));
      }),
  };
}

export async function addPieces(client: pg.PoolClient, id: string, path: string): Promise<void> {
  let number = 0;
  // A file stream gives full pieces, except for the last.
  for await (const piece of createReadStream(path, { highWaterMark: PIECE }) as AsyncIterable<Buffer>)
    await client.query('INSERT INTO pieces VALUES ($1, $2, $3)', [id, number++, piece]);
}

export async function* pieces(
  db: Pick<pg.ClientBase, 'query'>,
  id: string,
  from: number,
  to: number,
): AsyncGenerator<Uint8Array> {
  for (let number = Math.floor(from / PIECE); number * PIECE <= to; number++) {
    const first = Math.max(0, from - number * PIECE);
    const { rows } = await db.query<{ bytes: Buffer }>(
      'SELECT substring(bytes FROM $3::int FOR $4::int) AS bytes FROM pieces WHERE file = $1 AND number = $2',
      [id, number, first + 1, Math.min(PIECE, to - number * PIECE + 1) - first],
    );
    if (rows.length === 0) throw new Error('This file was removed while it was read.');
    yield bytesOf(rows[0]!.bytes);
  }
}
