import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Store } from '../store.ts';
import { areaTable, boardTable } from './boards.ts';
import { fileTable, settingTable } from './files.ts';
import { calendarTable, linkTable, sessionTable } from './people.ts';
import { statement } from './statement.ts';
import { sweeping } from './sweep.ts';
import { DatabaseThread } from './thread.ts';

export const DATABASE = 'larkstep.db';
/** The folder of the audio files beside it, each named by the SHA-256 of its bytes. */
export const FILES = 'files';

/** The store in a folder of its own: SQLite in WAL mode, every commit synced to the disk before it is answered. */
export async function openEmbeddedStore(folder: string): Promise<Store> {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  const db = await DatabaseThread.open(join(folder, DATABASE));
  return {
    boards: boardTable(db),
    areas: areaTable(db),
    links: linkTable(db),
    sessions: sessionTable(db),
    files: fileTable(db),
    calendars: calendarTable(db),
    settings: settingTable(db),
    sweep: sweeping(db),
    async backup(file) {
      await db.run([statement('VACUUM INTO ?', file)], true);
    },
    close: () => db.close(),
  };
}
