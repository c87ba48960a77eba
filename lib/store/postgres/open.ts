import type { SharedStore } from '../store.ts';
import { settingTable } from '../tables/files.ts';
import { calendarTable, linkTable, sessionTable } from '../tables/people.ts';
import { sweeping } from '../tables/sweep.ts';
import { Appending } from './append.ts';
import { attemptTable, forgetAttempts } from './attempts.ts';
import { areaTable, boardTable } from './boards.ts';
import { Postgres } from './database.ts';
import { fileTable } from './files.ts';
import { following } from './following.ts';

/** The store in PostgreSQL 15 or later, for one node or several. Rejects where the database does not answer. */
export async function openPostgresStore(url: string): Promise<SharedStore> {
  const db = new Postgres(url);
  try {
    await db.migrate();
  } catch (error) {
    await db.close();
    throw error;
  }
  const appending = new Appending(db);
  const sweep = sweeping(db.database);
  return {
    boards: boardTable(db),
    areas: areaTable(db, appending),
    links: linkTable(db.database),
    sessions: sessionTable(db.database),
    files: fileTable(db),
    calendars: calendarTable(db.database),
    settings: settingTable(db.database),
    attempts: attemptTable(db),
    async sweep(when) {
      await forgetAttempts(db);
      return sweep(when);
    },
    ...following(db),
    async close() {
      await appending.settled();
      await db.close();
    },
  };
}
