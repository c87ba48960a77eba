import { chmodSync, closeSync, openSync } from 'node:fs';

/** What lies beside a database while it is open: SQLite gives these the mode of the database itself (sqlite.org/wal.html). */
const BESIDE = ['-wal', '-shm'];

/**
 * Lets nobody but this account read the database, also in a folder that was there before and that others may enter, and with
 * it the folders of audio files. Makes the database where there is none, so that it is never open to others for a moment.
 */
export function keepPrivate(database: string, folders: readonly string[]): void {
  closeSync(openSync(database, 'a', 0o600));
  for (const path of [database, ...BESIDE.map((end) => database + end)]) setMode(path, 0o600);
  for (const path of folders) setMode(path, 0o700);
}

function setMode(path: string, mode: number): void {
  try {
    chmodSync(path, mode);
  } catch (error) {
    // It is not there, or it is another account's, who alone may say who reads it.
    if (!['ENOENT', 'EPERM', 'EROFS'].includes(String((error as NodeJS.ErrnoException).code))) throw error;
  }
}
