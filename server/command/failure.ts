import { Wrong } from './wrong.ts';

/** What the system or the database says no with, in words. */
const words: Record<string, string> = {
  ENOENT: 'there is no such file',
  EEXIST: 'a file of that name is there already',
  EISDIR: 'it is a folder, a file is needed',
  ENOTDIR: 'there is no such folder',
  EACCES: 'it may not be read or written here',
  EPERM: 'it may not be read or written here',
  EROFS: 'nothing can be written there',
  ENAMETOOLONG: 'the name is too long',
  ELOOP: 'its links lead in a circle',
  ENOSPC: 'the disk is full',
  EDQUOT: 'no more may be stored on this disk',
  EFBIG: 'the file becomes larger than is allowed there',
  SQLITE_FULL: 'the disk is full',
  SQLITE_CANTOPEN: 'the boards kept there cannot be opened',
  SQLITE_READONLY: 'the boards kept there cannot be written',
  SQLITE_NOTADB: 'the boards kept there are damaged',
  SQLITE_CORRUPT: 'the boards kept there are damaged',
};

/** Null for what the system has no part in, which is a fault of ours. */
export function failureOf(error: unknown): string | null {
  const { code, message } = Object(error) as { code?: unknown; message?: unknown };
  if (typeof code !== 'string' || !/^(E[A-Z0-9]+|SQLITE_\w+)$/.test(code)) return null;
  return words[code] ?? String(message ?? code);
}

/** One sentence about the place, where the system says no; anything else as it is. */
export function about(place: string, error: unknown): unknown {
  const failure = failureOf(error);
  return failure === null ? error : new Wrong(`${place}: ${failure}.`);
}
