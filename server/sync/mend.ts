import * as Y from 'yjs';
import type { OpenedArea } from '../../lib/board/open.ts';
import type { AreaName } from '../../lib/core/areas/board.ts';
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
  await store.areas.compact(board, area, head, snapshot);
  return { ...stored, updates: [snapshot], head, loose: 0 };
}
