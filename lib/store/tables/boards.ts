import type { AreaName } from '../../core/areas/board.ts';
import type { AreaTable, BoardTable, StoredBoard } from '../store.ts';
import { type Database, statement } from './database.ts';

/** What of boards and areas is asked alike of both databases. */
export function boardRows(db: Database): Omit<BoardTable, 'add'> {
  return {
    async list() {
      const [boards, areas] = await db.run([
        statement('SELECT id, made_at, listed FROM boards ORDER BY id'),
        statement('SELECT board, area, head FROM areas WHERE head > 0'),
      ]);
      const found = new Map<string, StoredBoard>();
      for (const { id, made_at, listed } of boards!.rows)
        found.set(String(id), {
          id: String(id),
          madeAt: String(made_at),
          heads: {},
          listed: listed === null ? null : String(listed),
        });
      for (const { board, area, head } of areas!.rows) {
        // Another node may have made one since the boards were listed.
        const stored = found.get(String(board));
        if (stored) stored.heads[area as AreaName] = Number(head);
      }
      return [...found.values()];
    },
    async has(id) {
      return (await db.row(statement('SELECT 1 FROM boards WHERE id = ?', id))) !== null;
    },
    async note(notes) {
      const statements = notes.flatMap(({ id, listed, summary }) => [
        ...(listed === undefined ? [] : [statement('UPDATE boards SET listed = ? WHERE id = ?', listed, id)]),
        ...(summary === undefined
          ? []
          : [statement('UPDATE boards SET summary = ? WHERE id = ?', summary, id)]),
      ]);
      if (statements.length > 0) await db.run(statements);
    },
    async summaries(ids) {
      if (ids.length === 0) return new Map();
      const rows = await db.rows(
        statement(
          `SELECT id, summary FROM boards WHERE summary IS NOT NULL AND id IN (${ids.map(() => '?').join(', ')})`,
          ...ids,
        ),
      );
      return new Map(rows.map(({ id, summary }) => [String(id), String(summary)]));
    },
    async remove(id) {
      await db.change(statement('DELETE FROM boards WHERE id = ?', id));
    },
  };
}

export function asideRows(db: Database): Pick<AreaTable, 'setAside' | 'aside'> {
  return {
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
        statement('SELECT area, bytes, reason, at FROM set_aside WHERE board = ? ORDER BY at', board),
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
