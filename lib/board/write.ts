import * as Y from 'yjs';
import type { AreaData, AreaShape, RichText } from '../core/areas/area.ts';
import { emptyArea } from '../core/areas/empty.ts';
import { applyChanges, textOf } from './area.ts';
import { changesBetween } from './between.ts';
import { writeRichText } from './richText.ts';

/** One update that writes the whole area into a new document: for seeding, import and tests. */
export function areaUpdate<S extends AreaShape>(shape: S, data: AreaData<S>): Uint8Array {
  const doc = new Y.Doc();
  applyChanges(doc, shape, changesBetween(shape, emptyArea(shape), data));
  doc.transact(() => {
    for (const collection of shape.richText) {
      for (const entry of (data as Record<string, unknown>)[collection] as {
        id: string;
        text?: RichText;
      }[]) {
        const fragment = textOf(doc, collection, entry.id);
        if (fragment && entry.text) writeRichText(fragment, entry.text);
      }
    }
  });
  const update = Y.encodeStateAsUpdate(doc);
  doc.destroy();
  return update;
}
