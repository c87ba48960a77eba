import type * as Y from 'yjs';
import { readArea } from '../../lib/board/area.ts';
import { holdsAll, type State, stateOf } from '../../lib/board/compare.ts';
import { openArea } from '../../lib/board/open.ts';
import type { AreaData, AreaShape } from '../../lib/core/areas/area.ts';
import type { StoredArea } from '../../lib/store/store.ts';

/** How often open areas are held against what is stored of them, besides each time that a snapshot is made. */
export interface Audits {
  /** After so many updates. */
  each: number;
  /** Of the rooms that end, this share. */
  share: number;
  /** Updates beside the snapshot, half as many again at most, from which on a room in use writes a new one. */
  long: number;
}
/**
 * What a kill may leave to be read at the next opening. A snapshot takes the loop and the store some ten milliseconds each, so it
 * comes seldom.
 */
const MANY = 2000;
/** What a server in use can spare. */
export const sampled: Audits = { each: Number.POSITIVE_INFINITY, share: 0.05, long: MANY };
/** For tests. */
export const always: Audits = { each: 40, share: 1, long: MANY };

/** What an open area holds, and up to which number of the log. */
export interface Held {
  doc: Y.Doc;
  head: number;
  read(): AreaData<AreaShape>;
}

/** What the store gives back of an area, as a document; or how that differs from what is open. */
export type Rebuilt = { doc: Y.Doc; differs: null } | { doc: null; differs: string };

/**
 * Rebuilds an area from what is stored of it, and holds it against the one that is open.
 * @param stored read after all of `earlier` was acknowledged
 * @param now the open area, which may have gone further since, and which others may have written elsewhere
 */
export function rebuilt(shape: AreaShape, stored: StoredArea, earlier: State, now: Held): Rebuilt {
  const { doc, unusable, changes } = openArea(shape, stored.updates);
  const differs =
    unusable.length + changes.length > 0
      ? 'what is stored needs mending'
      : differenceOf(doc, stored.head, earlier, now, shape);
  if (differs === null) return { doc, differs };
  doc.destroy();
  return { doc: null, differs };
}

function differenceOf(doc: Y.Doc, head: number, earlier: State, now: Held, shape: AreaShape): string | null {
  if (!holdsAll(doc, earlier)) return 'something that was acknowledged is not stored';
  // What another node has stored is not here yet.
  if (head > now.head) return null;
  if (!holdsAll(now.doc, stateOf(doc))) return 'something that is stored is not here';
  // What is on its way to the store is not there yet.
  if (!holdsAll(doc, stateOf(now.doc))) return null;
  return JSON.stringify(now.read()) === JSON.stringify(readArea(doc, shape)) ? null : 'it reads otherwise';
}
