import { join } from 'node:path';
import Database from 'libsql';
import { makeFolder } from './folder.ts';

/**
 * Holds the data folder for one server; null when another has it. The lock is the operating system's (by SQLite), so it ends
 * with the process however that ends. Throws where the folder cannot be written, such as on a full disk.
 */
export function lockFolder(folder: string): { release(): void } | null {
  makeFolder(folder);
  const db = new Database(join(folder, 'lock'));
  try {
    db.exec('BEGIN EXCLUSIVE');
  } catch (error) {
    db.close();
    if (String((error as NodeJS.ErrnoException).code).startsWith('SQLITE_BUSY')) return null;
    throw error;
  }
  return { release: () => db.close() };
}
