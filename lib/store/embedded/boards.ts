import { type AreaTable, type BoardTable, ClaimTaken } from '../store.ts';
import { asideRows, boardRows } from '../tables/boards.ts';
import { type Database, statement } from '../tables/database.ts';
import { historyRows } from '../tables/history.ts';

/** Gives the update the area's next number; the table's trigger notes it as the head. One statement needs no BEGIN and no COMMIT. */
const APPENDING = `INSERT INTO updates (board, area, number, bytes, at, membership)
  VALUES (?1, ?2, 1 + coalesce((SELECT head FROM areas WHERE board = ?1 AND area = ?2), 0), ?3, ?4, ?5)
  RETURNING number`;

/** An id that belongs to somebody else becomes nobody's, which the table does not allow: so the whole request fails. */
const CLAIMING = `INSERT INTO claims VALUES (?, ?, ?, ?) ON CONFLICT DO UPDATE
  SET membership = CASE membership WHEN excluded.membership THEN membership END`;
const TAKEN = 'NOT NULL constraint failed: claims.membership';

export function boardTable(db: Database): BoardTable {
  return {
    ...boardRows(db),
    async add(id, madeAt, areas, listed = null) {
      await db.run([
        statement('INSERT INTO boards (id, made_at, listed) VALUES (?, ?, ?)', id, madeAt, listed),
        ...areas.map(({ area, update }) => statement(APPENDING, id, area, update, madeAt, '')),
      ]);
    },
  };
}

export function areaTable(db: Database): AreaTable {
  return {
    ...asideRows(db),
    ...historyRows(db),
    async load(board, area, after = 0) {
      const of = [board, area] as const;
      const [areas, updates, claims] = await db.run([
        statement('SELECT head, through, snapshot FROM areas WHERE board = ? AND area = ?', ...of),
        statement(
          `SELECT bytes FROM updates WHERE board = ?1 AND area = ?2
             AND number > max(?3, (SELECT through FROM areas WHERE board = ?1 AND area = ?2)) ORDER BY number`,
          ...of,
          after,
        ),
        statement('SELECT client, membership FROM claims WHERE board = ? AND area = ?', ...of),
      ]);
      const stored = areas!.rows[0];
      const snapshot = Number(stored?.through) > after ? (stored!.snapshot as Uint8Array | null) : null;
      const loose = updates!.rows.map(({ bytes }) => bytes as Uint8Array);
      return {
        updates: snapshot ? [snapshot, ...loose] : loose,
        head: Number(stored?.head ?? 0),
        loose: loose.length,
        claims: claims!.rows.map(({ client, membership }) => ({
          client: Number(client),
          membership: String(membership),
        })),
      };
    },
    async append(board, area, update, claims, { at, membership }) {
      try {
        const results = await db.run([
          statement(APPENDING, board, area, update, at, membership),
          ...claims.map((claim) => statement(CLAIMING, board, area, claim.client, claim.membership)),
        ]);
        return Number(results[0]!.rows[0]!.number);
      } catch (error) {
        throw (error as Error).message.includes(TAKEN) ? new ClaimTaken() : error;
      }
    },
  };
}
