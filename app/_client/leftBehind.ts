import { IndexeddbPersistence } from 'y-indexeddb';
import { readArea } from '@/lib/board/area.ts';
import { newArea } from '@/lib/board/layout.ts';
import { type AreaName, areas } from '@/lib/core/areas/board.ts';
import { forgetSeen } from './ownSince.ts';

/**
 * What this browser still keeps of a board for memberships that are no more: read for the person, as JSON to keep, then dropped.
 * Null when there is nothing.
 * @param live memberships of that board that stand, whose copies stay
 */
export async function takeLeftBehind(board: string, live: readonly string[]): Promise<string | null> {
  const names = (await indexedDB.databases()).flatMap(({ name }) => name ?? []);
  const kept: Record<string, unknown> = {};
  for (const name of names) {
    const [membership, of, area] = name.split('/');
    if (of !== board || !isArea(area) || !membership || live.includes(membership)) continue;
    forgetSeen({ board, membership });
    const doc = newArea(areas[area]);
    const local = new IndexeddbPersistence(name, doc);
    await local.whenSynced;
    if (doc.store.clients.size > 0) kept[area] = readArea(doc, areas[area]);
    await local.clearData();
    doc.destroy();
  }
  return Object.keys(kept).length > 0 ? JSON.stringify(kept, null, 1) : null;
}

const isArea = (name: string | undefined): name is AreaName => name !== undefined && name in areas;
