import type { Store } from '../store.ts';
import { type Database, statement } from './database.ts';
import { trimOld } from './history.ts';

/** In this order: a session is unused once the links it held are gone. */
export function sweeping(db: Database): Store['sweep'] {
  return async ({ now, linksBefore, sessionsBefore }) => {
    const [calendars, links, sessions] = await db.run([
      statement('DELETE FROM calendars WHERE link IN (SELECT id FROM links WHERE ends_at < ?)', now),
      statement('DELETE FROM links WHERE ends_at < ? OR revoked_at < ?', linksBefore, linksBefore),
      statement(
        `DELETE FROM sessions WHERE made_at < ? AND coalesce(instructor_until, '') < ?
         AND hash NOT IN (SELECT session FROM grants)`,
        sessionsBefore,
        now,
      ),
    ]);
    await trimOld(db, Date.parse(now));
    return { calendars: calendars!.changes, links: links!.changes, sessions: sessions!.changes };
  };
}
