import type { AreaName } from '../../core/areas/board.ts';
import type { AreaTable, BoardTable, StoredBoard } from '../store.ts';
import { type Statement, statement } from './statement.ts';
import type { DatabaseThread } from './thread.ts';

function appending(board: string, area: AreaName, update: Uint8Array): Statement[] {
  return [
    statement(
      'INSERT INTO areas (board, area, head) VALUES (?, ?, 1) ON CONFLICT DO UPDATE SET head = head + 1',
      board,
      area,
    ),
    statement(
      'INSERT INTO updates SELECT board, area, head, ? FROM areas WHERE board = ? AND area = ?',
      update,
      board,
      area,
    ),
  ];
}

export function boardTable(db: DatabaseThread): BoardTable {
  return {
    async list() {
      const [boards, areas] = await db.run([
        statement('SELECT id, made_at FROM boards ORDER BY id'),
        statement('SELECT board, area, head FROM areas'),
      ]);
      const found = new Map<string, StoredBoard>();
      for (const { id, made_at } of boards!.rows)
        found.set(String(id), { id: String(id), madeAt: String(made_at), heads: {} });
      for (const { board, area, head } of areas!.rows)
        found.get(String(board))!.heads[area as AreaName] = Number(head);
      return [...found.values()];
    },
    async has(id) {
      return (await db.row(statement('SELECT 1 FROM boards WHERE id = ?', id))) !== null;
    },
    async add(id, madeAt, areas) {
      await db.run([
        statement('INSERT INTO boards VALUES (?, ?)', id, madeAt),
        ...areas.flatMap(({ area, update }) => appending(id, area, update)),
      ]);
    },
    async remove(id) {
      await db.change(statement('DELETE FROM boards WHERE id = ?', id));
    },
  };
}

export function areaTable(db: DatabaseThread): AreaTable {
  return {
    async load(board, area) {
      const [areas, updates, claims] = await db.run([
        statement('SELECT head, snapshot FROM areas WHERE board = ? AND area = ?', board, area),
        statement('SELECT bytes FROM updates WHERE board = ? AND area = ? ORDER BY number', board, area),
        statement('SELECT client, membership FROM claims WHERE board = ? AND area = ?', board, area),
      ]);
      const stored = areas!.rows[0];
      const loose = updates!.rows.map(({ bytes }) => bytes as Uint8Array);
      return {
        updates: stored?.snapshot ? [stored.snapshot as Uint8Array, ...loose] : loose,
        head: Number(stored?.head ?? 0),
        loose: loose.length,
        claims: claims!.rows.map(({ client, membership }) => ({
          client: Number(client),
          membership: String(membership),
        })),
      };
    },
    async append(board, area, update, claims) {
      const results = await db.run([
        ...appending(board, area, update),
        ...claims.map(({ client, membership }) =>
          statement('INSERT OR IGNORE INTO claims VALUES (?, ?, ?, ?)', board, area, client, membership),
        ),
        statement('SELECT head FROM areas WHERE board = ? AND area = ?', board, area),
      ]);
      return Number(results.at(-1)!.rows[0]!.head);
    },
    async compact(board, area, through, snapshot) {
      await db.run([
        statement(
          'UPDATE areas SET snapshot = ?, through = ? WHERE board = ? AND area = ? AND through < ?',
          snapshot,
          through,
          board,
          area,
          through,
        ),
        statement('DELETE FROM updates WHERE board = ? AND area = ? AND number <= ?', board, area, through),
      ]);
    },
    async setAside(board, { area, bytes, reason, at }) {
      await db.run([
        statement('INSERT INTO set_aside VALUES (?, ?, ?, ?, ?)', board, area, bytes, reason, at),
        statement('DELETE FROM updates WHERE board = ? AND area = ? AND bytes = ?', board, area, bytes),
        statement(
          'UPDATE areas SET snapshot = NULL WHERE board = ? AND area = ? AND snapshot = ?',
          board,
          area,
          bytes,
        ),
      ]);
    },
    async aside(board) {
      const rows = await db.rows(
        statement('SELECT area, bytes, reason, at FROM set_aside WHERE board = ? ORDER BY at, rowid', board),
      );
      return rows.map(({ area, bytes, reason, at }) => ({
        area: area as AreaName,
        bytes: bytes as Uint8Array,
        reason: String(reason),
        at: String(at),
      }));
    },
  };
}
