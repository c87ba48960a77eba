import * as Y from 'yjs';
import { openArea } from '../../lib/board/open.ts';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';
import type { Store, StoredArea } from '../../lib/store/store.ts';

/**
 * Puts in the place of a snapshot that cannot be read what an earlier one and the log since say; the damaged one is set aside.
 * False, and nothing done, where these are no longer all there.
 */
export async function rebuild(
  store: Store,
  { board, area }: { board: string; area: AreaName },
  { head }: StoredArea,
): Promise<boolean> {
  const at = new Date().toISOString();
  const damaged = await store.areas.asOf(board, area, at);
  const earlier = damaged && (await store.areas.asOf(board, area, at, damaged.base));
  if (earlier?.number !== head) return false;
  const { doc, unusable } = openArea(areas[area], earlier.updates);
  const snapshot = Y.encodeStateAsUpdate(doc);
  doc.destroy();
  const why = { reason: 'update: It cannot be read.', at };
  return unusable.length === 0 && (await store.areas.replace(board, area, head, snapshot, why));
}
