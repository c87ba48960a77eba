import { join } from 'node:path';
import type { EmbeddedStore } from '../store.ts';
import { statement } from '../tables/database.ts';
import { settingTable } from '../tables/files.ts';
import { calendarTable, linkTable, sessionTable } from '../tables/people.ts';
import { sweeping } from '../tables/sweep.ts';
import { areaTable, boardTable } from './boards.ts';
import { fileTable } from './files.ts';
import { makeFolder } from './folder.ts';
import { keepPrivate } from './private.ts';
import { DatabaseThread } from './thread.ts';

export const DATABASE = 'larkstep.db';
/** The folder of the audio files beside it, each named by the SHA-256 of its bytes. */
export const FILES = 'files';
/** The folder of uploads on their way. */
export const INCOMING = 'incoming';

interface Use {
  /** Called when its thread has died: nothing can be stored from then on. */
  onLost?: (error: Error) => void;
  /** For many who write at once, for long: it takes 32 MB of the disk while it is open, and answers sooner. */
  serving?: boolean;
}

/** The store in a folder of its own: SQLite in WAL mode, every commit synced to the disk before it is answered. */
export async function openEmbeddedStore(folder: string, use: Use = {}): Promise<EmbeddedStore> {
  const { onLost, serving = false } = use;
  makeFolder(folder);
  keepPrivate(join(folder, DATABASE), [join(folder, FILES), join(folder, INCOMING)]);
  const thread = await DatabaseThread.open({ file: join(folder, DATABASE), serving }, onLost);
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
