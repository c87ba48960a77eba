import { join } from 'node:path';
import Database from 'libsql';
import { makeFolder } from './folder.ts';

/**
 * Holds the data folder for one server; null when another has it. The lock is the operating system's (by SQLite), so it ends
 * with the process however that ends.
 */
export function lockFolder(folder: string): { release(): void } | null {
  makeFolder(folder);
  const db = new Database(join(folder, 'lock'));
  try {
    db.exec('BEGIN EXCLUSIVE');
  } catch {
    db.close();
    return null;
  }
  return { release: () => db.close() };
}
