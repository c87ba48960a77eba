import { createReadStream } from 'node:fs';
import { mkdir, open, readdir, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import type { FileTable } from '../store.ts';
import { type Database, statement } from '../tables/database.ts';
import { addingFile, addingToBoard, fileRows, removingUnused } from '../tables/files.ts';

/** Audio files in a folder, each named by its id. */
export function fileTable(db: Database, folder: string): FileTable {
  const pathOf = (id: string) => join(folder, id);
  // A file must not be swept away between being moved to its place and being written down.
  let turn: Promise<unknown> = Promise.resolve();
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const mine = turn.then(work);
    turn = mine.catch(() => undefined);
    return mine;
  };
  return {
    ...fileRows(db),
    add: (board, file, path) =>
      inTurn(async () => {
        await mkdir(folder, { recursive: true });
        await rename(path, pathOf(file.id));
        await syncFolder(folder);
        await db.run([addingFile(file), addingToBoard(board, file.id)]);
      }),
    read: (id, from, to) =>
      Readable.toWeb(createReadStream(pathOf(id), { start: from, end: to })) as ReadableStream<Uint8Array>,
    removeUnused: () =>
      inTurn(async () => {
        const removed = (await db.rows(removingUnused())).map(({ id }) => String(id));
        const used = new Set((await db.rows(statement('SELECT id FROM files'))).map(({ id }) => String(id)));
        // Also what a crash left over between the two steps of adding or removing.
        for (const name of await readdir(folder).catch(() => []))
          if (!used.has(name)) await rm(pathOf(name), { force: true });
        return removed;
      }),
  };
}

async function syncFolder(path: string): Promise<void> {
  const folder = await open(path);
  await folder.sync().catch(() => undefined);
  await folder.close();
}
