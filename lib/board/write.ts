import * as Y from 'yjs';
import type { AreaData, AreaShape, RichText } from '../core/areas/area.ts';
import type { Change } from '../core/areas/change.ts';
import { applyChanges, textOf } from './area.ts';
import { writeRichText } from './richText.ts';

/** The changes that make an empty area hold this data; rich texts besides. */
function changesOf<S extends AreaShape>(shape: S, data: AreaData<S>): Change<S>[] {
  const plain = data as Record<string, unknown>;
  const registers = Object.keys(shape.registers)
    .filter((register) => plain[register] !== null && plain[register] !== undefined)
    .map((register) => ({ register, value: plain[register] }));
  const entries = Object.keys(shape.collections).flatMap((collection) =>
    ((plain[collection] ?? []) as ({ id: string; text?: RichText } & Record<string, unknown>)[]).map(
      ({ id, text: _text, ...fields }) => ({ collection, id, fields }),
    ),
  );
  return [...registers, ...entries] as Change<S>[];
}

/** One update that writes the whole area into a new document: for seeding, import and tests. */
export function areaUpdate<S extends AreaShape>(shape: S, data: AreaData<S>): Uint8Array {
  const doc = new Y.Doc();
  applyChanges(doc, shape, changesOf(shape, data));
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
