import * as Y from 'yjs';
import { isEqual } from '../../lib/board/compare.ts';
import { type OpenedArea, openArea } from '../../lib/board/open.ts';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';
import type { Store, StoredArea } from '../../lib/store/store.ts';

/**
 * Makes what is stored what was opened: sets aside what could not be used, stores what opening has changed, and puts a snapshot
 * in place of a log that had any of this, so that it is done once. Resolves when it is durable.
 */
export async function mend(
  store: Store,
  { board, area }: { board: string; area: AreaName },
  stored: StoredArea,
  { doc, unusable, changes }: OpenedArea,
): Promise<StoredArea> {
  if (unusable.length === 0 && changes.length === 0) return stored;
  const at = new Date().toISOString();
  for (const { kind, bytes, reason } of unusable)
    await store.areas.setAside(board, { area, bytes, reason: `${kind}: ${reason}`, at });
  let { head } = stored;
  for (const change of changes) {
    const number = await store.areas.append(board, area, change, [], { membership: '', at });
    // Another node has stored something meanwhile, which no snapshot of this document may replace.
    if (number !== head + 1) return stored;
    head = number;
  }
  const snapshot = Y.encodeStateAsUpdate(doc);
  // Not the log with the changes in it: what they take out may lie so deep that no other document can take it out.
  const read = openArea(areas[area], [snapshot]);
  const isSame = read.unusable.length + read.changes.length === 0 && isEqual(doc, read.doc, areas[area]);
  read.doc.destroy();
  if (!isSame) throw new Error('What was mended cannot be read back.');
  await store.areas.compact(board, area, head, snapshot);
  return { ...stored, updates: [snapshot], head, loose: 0 };
}
