import { join } from 'node:path';
import type { EmbeddedStore } from '../store.ts';
import { statement } from '../tables/database.ts';
import { settingTable } from '../tables/files.ts';
import { calendarTable, linkTable, sessionTable } from '../tables/people.ts';
import { sweeping } from '../tables/sweep.ts';
import { areaTable, boardTable } from './boards.ts';
import { fileTable } from './files.ts';
import { makeFolder } from './folder.ts';
import { DatabaseThread } from './thread.ts';

export const DATABASE = 'larkstep.db';
/** The folder of the audio files beside it, each named by the SHA-256 of its bytes. */
export const FILES = 'files';

/**
 * The store in a folder of its own: SQLite in WAL mode, every commit synced to the disk before it is answered. `onLost` is
 * called when its thread has died: nothing can be stored from then on.
 */
export async function openEmbeddedStore(
  folder: string,
  onLost?: (error: Error) => void,
): Promise<EmbeddedStore> {
  makeFolder(folder);
  const thread = await DatabaseThread.open(join(folder, DATABASE), onLost);
  const db = thread.database;
  return {
    boards: boardTable(db),
    areas: areaTable(db),
    links: linkTable(db),
    sessions: sessionTable(db),
    files: fileTable(db, join(folder, FILES)),
    calendars: calendarTable(db),
    settings: settingTable(db),
    sweep: sweeping(db),
    async backup(file) {
      await thread.run([statement('VACUUM INTO ?', file)], true);
    },
    close: () => thread.close(),
  };
}
