import { join } from 'node:path';
import Database from 'libsql';
import * as Y from 'yjs';
import { newArea } from '../../lib/board/layout.ts';
import { areas } from '../../lib/core/areas/board.ts';
import { DATABASE } from '../../lib/store/embedded/open.ts';

/** What no version can let in, and nothing can take out: maps in each other without end. */
export function hopeless(): Uint8Array {
  const doc = newArea(areas.remarks);
  let at = doc.getMap('remarks');
  for (let level = 0; level < 9000; level++) {
    const inner = new Y.Map<unknown>();
    at.set('a', inner);
    at = inner;
  }
  return Y.encodeStateAsUpdate(doc);
}

/** Adds to what the store in this folder holds of a board's remarks what nobody can open; its history stays whole. */
export function spoilRemarks(folder: string, board: string): void {
  const db = new Database(join(folder, DATABASE));
  try {
    const at = new Date().toISOString();
    const added = `INSERT INTO updates (board, area, number, bytes, at, membership)
      SELECT board, area, head + 1, ?, ?, '' FROM areas WHERE board = ? AND area = 'remarks'`;
    if (db.prepare(added).run([Buffer.from(hopeless()), at, board]).changes !== 1)
      throw new Error('nothing was spoilt');
  } finally {
    db.close();
  }
}
