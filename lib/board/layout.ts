import * as Y from 'yjs';
import type { AreaShape } from '../core/areas/area.ts';

/**
 * How an area lies in its Y.Doc: all registers in the root map `registers`; each collection a root map of its name, with a
 * Y.Map for each entry. A rich text is the Y.XmlFragment `text` of its entry, made in the transaction that makes the entry.
 */
export const REGISTERS = 'registers';
export const TEXT = 'text';
/** The version of the shape that wrote the document stands among the registers. */
export const VERSION = 'version';

type Root = Y.Map<unknown>;
export const registersOf = (doc: Y.Doc): Root => doc.getMap(REGISTERS);
export const entriesOf = (doc: Y.Doc, collection: string): Y.Map<Y.Map<unknown>> => doc.getMap(collection);
/** Every root but the registers, known to a shape or not. */
export const collectionsOf = (doc: Y.Doc): string[] =>
  [...doc.share.keys()].filter((name) => name !== REGISTERS);

/** An empty document with the area's roots in place, so that events name them from the first update on. */
export function newArea(shape: AreaShape): Y.Doc {
  const doc = new Y.Doc();
  registersOf(doc);
  for (const collection of Object.keys(shape.collections)) entriesOf(doc, collection);
  return doc;
}

export function fieldsOf(entry: Y.Map<unknown>): Record<string, unknown> {
  // Without a prototype, `__proto__` is a name like any other.
  const fields: Record<string, unknown> = Object.create(null);
  for (const [field, value] of entry) if (field !== TEXT) fields[field] = value;
  return fields;
}

/**
 * As one's own transaction: after a stranger's Yjs tidies up formatted texts, and a server's document would have removed what no
 * stored update removes. Every page does that for itself.
 */
export const apply = (doc: Y.Doc, update: Uint8Array): void => doc.transact(() => Y.applyUpdate(doc, update));
