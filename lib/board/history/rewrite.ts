import * as Y from 'yjs';
import type { AreaData, AreaShape, RichText } from '../../core/areas/area.ts';
import { same } from '../../core/edit/canonical.ts';
import { applyChanges, readArea, textOf } from '../area.ts';
import { changesBetween } from '../between.ts';
import { richTextOf, writeRichText } from '../richText.ts';

/** What `work` changes in a document, as one update; null where it changes nothing. */
export function changed(doc: Y.Doc, work: (transaction: Y.Transaction) => void): Uint8Array | null {
  const updates: Uint8Array[] = [];
  const note = (update: Uint8Array) => void updates.push(update);
  doc.on('update', note);
  doc.transact(work);
  doc.off('update', note);
  return updates.length === 0 ? null : Y.mergeUpdates(updates);
}

/** Puts another text in the place of what a fragment holds. */
export function rewrite(fragment: Y.XmlFragment, text: RichText): void {
  fragment.delete(0, fragment.length);
  writeRichText(fragment, text);
}

/** Makes an area what it was, or shall be, by changes; the update that does it, null where it is that already. */
export function madeInto<S extends AreaShape>(doc: Y.Doc, shape: S, wanted: AreaData<S>): Uint8Array | null {
  return changed(doc, () => {
    applyChanges(doc, shape, changesBetween(shape, readArea(doc, shape), wanted));
    for (const collection of shape.richText)
      for (const { id, text } of (wanted as Record<string, { id: string; text?: RichText }[]>)[collection]!) {
        const fragment = textOf(doc, collection, id);
        if (fragment && text && !same(richTextOf(fragment), text)) rewrite(fragment, text);
      }
  });
}
