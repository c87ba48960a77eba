import type { FileTable, SettingTable, StoredFile } from '../store.ts';
import { type Database, type Row, type Statement, statement } from './database.ts';

const fileOf = (row: Row): StoredFile => ({
  id: String(row.id),
  bytes: Number(row.bytes),
  type: String(row.type),
});

/** Which files there are and whose, without their bytes. */
export function fileRows(db: Database): Pick<FileTable, 'of' | 'ofBoard'> {
  return {
    async of(board, id) {
      const row = await db.row(
        statement(
          'SELECT files.* FROM board_files JOIN files ON files.id = file WHERE board = ? AND file = ?',
          board,
          id,
        ),
      );
      return row && fileOf(row);
    },
    async ofBoard(board) {
      const rows = await db.rows(
        statement(
          'SELECT files.* FROM board_files JOIN files ON files.id = file WHERE board = ? ORDER BY id',
          board,
        ),
      );
      return rows.map(fileOf);
    },
  };
}

export const addingFile = ({ id, bytes, type }: StoredFile): Statement =>
  statement('INSERT INTO files VALUES (?, ?, ?) ON CONFLICT DO NOTHING', id, bytes, type);
export const addingToBoard = (board: string, id: string): Statement =>
  statement('INSERT INTO board_files VALUES (?, ?) ON CONFLICT DO NOTHING', board, id);
export const removingUnused = (): Statement =>
  statement('DELETE FROM files WHERE id NOT IN (SELECT file FROM board_files) RETURNING id');

export function settingTable(db: Database): SettingTable {
  return {
    async get(key) {
      const row = await db.row(statement('SELECT value FROM settings WHERE key = ?', key));
      return row === null ? null : String(row.value);
    },
    async set(key, value) {
      await db.change(
        statement(
          'INSERT INTO settings VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value',
          key,
          value,
        ),
      );
    },
    async setOnce(key, value) {
      const adding = statement('INSERT INTO settings VALUES (?, ?) ON CONFLICT DO NOTHING', key, value);
      return (await db.change(adding)) > 0;
    },
    async replace(key, before, after) {
      const replacing = statement(
        'UPDATE settings SET value = ? WHERE key = ? AND value = ?',
        after,
        key,
        before,
      );
      return (await db.change(replacing)) > 0;
    },
  };
}
