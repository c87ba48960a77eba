import type { FileTable, SettingTable, StoredFile } from '../store.ts';
import { type Row, statement } from './statement.ts';
import type { DatabaseThread } from './thread.ts';

const fileOf = (row: Row): StoredFile => ({
  id: String(row.id),
  bytes: Number(row.bytes),
  type: String(row.type),
});

export function fileTable(db: DatabaseThread): FileTable {
  return {
    async add(board, { id, bytes, type }) {
      await db.run([
        statement('INSERT OR IGNORE INTO files VALUES (?, ?, ?)', id, bytes, type),
        statement('INSERT OR IGNORE INTO board_files VALUES (?, ?)', board, id),
      ]);
    },
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
    async all() {
      return (await db.rows(statement('SELECT * FROM files ORDER BY id'))).map(fileOf);
    },
    async removeUnused() {
      const rows = await db.rows(
        statement('DELETE FROM files WHERE id NOT IN (SELECT file FROM board_files) RETURNING id'),
      );
      return rows.map(({ id }) => String(id));
    },
  };
}

export function settingTable(db: DatabaseThread): SettingTable {
  return {
    async get(key) {
      const row = await db.row(statement('SELECT value FROM settings WHERE key = ?', key));
      return row === null ? null : String(row.value);
    },
    async set(key, value) {
      await db.change(statement('INSERT OR REPLACE INTO settings VALUES (?, ?)', key, value));
    },
    async setOnce(key, value) {
      return (await db.change(statement('INSERT OR IGNORE INTO settings VALUES (?, ?)', key, value))) > 0;
    },
  };
}
