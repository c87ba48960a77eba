import { role } from '../../core/areas/people.ts';
import type { CalendarTable, LinkTable, SessionTable, StoredLink } from '../store.ts';
import { type Database, type Row, statement } from './database.ts';

const text = (value: unknown): string | null => (typeof value === 'string' ? value : null);

const linkOf = (row: Row): StoredLink => ({
  id: String(row.id),
  board: String(row.board),
  role: role.parse(row.role),
  hash: String(row.hash),
  madeAt: String(row.made_at),
  endsAt: text(row.ends_at),
  revokedAt: text(row.revoked_at),
  parent: text(row.parent),
  frozenAt: text(row.frozen_at),
});

/** The link and all that were made with it, however far down. */
const MADE_WITH = `WITH RECURSIVE made (id) AS (
  SELECT id FROM links WHERE board = ? AND id = ?
  UNION SELECT links.id FROM made JOIN links ON links.parent = made.id)`;

export function linkTable(db: Database): LinkTable {
  return {
    async add({ id, board, role, hash, madeAt, endsAt, revokedAt, parent, frozenAt }) {
      await db.change(
        statement(
          `INSERT INTO links (id, board, role, hash, made_at, ends_at, parent, frozen_at, revoked_at)
           VALUES (?, ?, ?, ?, ?, ?, ?, coalesce(?, (SELECT frozen_at FROM links WHERE id = ?)),
                   coalesce(?, (SELECT revoked_at FROM links WHERE id = ?)))`,
          id,
          board,
          role,
          hash,
          madeAt,
          endsAt,
          parent,
          frozenAt,
          parent,
          revokedAt,
          parent,
        ),
      );
    },
    async byHash(hash) {
      const row = await db.row(statement('SELECT * FROM links WHERE hash = ?', hash));
      return row && linkOf(row);
    },
    async of(board) {
      const rows = await db.rows(
        statement(
          `SELECT *, (SELECT count(*) FROM grants WHERE link = id) AS browsers
           FROM links WHERE board = ? AND revoked_at IS NULL ORDER BY made_at, id`,
          board,
        ),
      );
      return rows.map((row) => ({ ...linkOf(row), browsers: Number(row.browsers) }));
    },
    async everOf(board) {
      const rows = await db.rows(
        statement('SELECT * FROM links WHERE board = ? ORDER BY made_at, id', board),
      );
      return rows.map(linkOf);
    },
    async revoke(board, id, at) {
      const [, revoked] = await db.run([
        statement(`${MADE_WITH} DELETE FROM calendars WHERE link IN (SELECT id FROM made)`, board, id),
        statement(
          `${MADE_WITH} UPDATE links SET revoked_at = ?
           WHERE id IN (SELECT id FROM made) AND revoked_at IS NULL RETURNING id`,
          board,
          id,
          at,
        ),
      ]);
      return revoked!.rows.map((row) => String(row.id));
    },
    async freeze(board, id, at) {
      const changed = await db.rows(
        statement(
          `${MADE_WITH} UPDATE links SET frozen_at = ? WHERE id IN (SELECT id FROM made) AND revoked_at IS NULL
           AND (frozen_at IS NULL) = (CAST(? AS text) IS NOT NULL) RETURNING id`,
          board,
          id,
          at,
          at,
        ),
      );
      return changed.map((row) => String(row.id));
    },
    async release(board, id) {
      await db.change(statement('UPDATE links SET parent = NULL WHERE board = ? AND parent = ?', board, id));
    },
    async rootOf(id) {
      const top = await db.row(
        statement(
          `WITH RECURSIVE line (id, parent) AS (
             SELECT id, parent FROM links WHERE id = ?
             UNION SELECT links.id, links.parent FROM line JOIN links ON links.id = line.parent)
           SELECT id FROM line WHERE parent IS NULL OR parent NOT IN (SELECT id FROM line)`,
          id,
        ),
      );
      return String(top?.id ?? id);
    },
    async removeUnopened(ids) {
      await db.run(
        ids.map((id) =>
          statement('DELETE FROM links WHERE id = ? AND id NOT IN (SELECT link FROM grants)', id),
        ),
      );
    },
  };
}

export function sessionTable(db: Database): SessionTable {
  return {
    async add(hash, madeAt) {
      await db.change(statement('INSERT INTO sessions (hash, made_at) VALUES (?, ?)', hash, madeAt));
    },
    async has(hash) {
      return (await db.row(statement('SELECT 1 FROM sessions WHERE hash = ?', hash))) !== null;
    },
    async signIn(hash, until) {
      await db.change(statement('UPDATE sessions SET instructor_until = ? WHERE hash = ?', until, hash));
    },
    async signOut(hash) {
      await db.change(statement('UPDATE sessions SET instructor_until = NULL WHERE hash = ?', hash));
    },
    async signOutAll(except) {
      const ended = await db.rows(
        statement(
          `UPDATE sessions SET instructor_until = NULL WHERE instructor_until IS NOT NULL AND hash <> ?
           RETURNING hash`,
          except ?? '',
        ),
      );
      return ended.map(({ hash }) => String(hash));
    },
    async instructorUntil(hash) {
      const row = await db.row(statement('SELECT instructor_until FROM sessions WHERE hash = ?', hash));
      return text(row?.instructor_until);
    },
    async grant(hash, link) {
      await db.change(statement('INSERT INTO grants VALUES (?, ?) ON CONFLICT DO NOTHING', hash, link));
    },
    async moveGrants(from, to) {
      await db.change(
        statement(
          'INSERT INTO grants SELECT ?, link FROM grants WHERE session = ? ON CONFLICT DO NOTHING',
          to,
          from,
        ),
        statement('DELETE FROM grants WHERE session = ?', from),
      );
    },
    async links(hash) {
      const rows = await db.rows(
        statement(
          'SELECT links.* FROM grants JOIN links ON links.id = grants.link WHERE session = ? ORDER BY made_at DESC, id',
          hash,
        ),
      );
      return rows.map(linkOf);
    },
  };
}

export function calendarTable(db: Database): CalendarTable {
  return {
    async put({ hash, board, role, link, membership }) {
      await db.change(
        statement(
          `INSERT INTO calendars VALUES (?, ?, ?, ?, ?) ON CONFLICT (board, membership)
           DO UPDATE SET hash = excluded.hash, role = excluded.role, link = excluded.link`,
          hash,
          board,
          role,
          link,
          membership,
        ),
      );
    },
    async byHash(hash) {
      const row = await db.row(statement('SELECT * FROM calendars WHERE hash = ?', hash));
      if (!row) return null;
      return {
        hash,
        board: String(row.board),
        role: role.parse(row.role),
        link: text(row.link),
        membership: String(row.membership),
      };
    },
  };
}
