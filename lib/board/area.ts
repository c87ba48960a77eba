import * as Y from 'yjs';
import type { AreaData, AreaShape } from '../core/areas/area.ts';
import type { Change } from '../core/areas/change.ts';
import { richTextOf } from './richText.ts';

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

/** An empty document with the area's roots in place, so that events name them from the first update on. */
export function newArea(shape: AreaShape): Y.Doc {
  const doc = new Y.Doc();
  registersOf(doc);
  for (const collection of Object.keys(shape.collections)) entriesOf(doc, collection);
  return doc;
}

type Schema = AreaShape['registers'][string];
const read = new WeakMap<Schema, WeakMap<object, unknown>>();

/**
 * A register's value is replaced and never altered: the same object is parsed once and reads as the same object, so that work on
 * it (a song's frames, its grid) need not be done again at each change of something else.
 */
function readRegister(schema: Schema, value: unknown): unknown {
  const parse = () => schema.safeParse(value).data ?? null;
  if (typeof value !== 'object' || value === null) return parse();
  const known = read.get(schema) ?? new WeakMap<object, unknown>();
  read.set(schema, known);
  if (!known.has(value)) known.set(value, parse());
  return known.get(value);
}

/**
 * The area as plain data. What does not satisfy the shape (only possible in a document that no server checked) reads as
 * unset, so that every reader sees the same valid board.
 */
export function readArea<S extends AreaShape>(doc: Y.Doc, shape: S): AreaData<S> {
  const data: Record<string, unknown> = {};
  const registers = registersOf(doc);
  for (const [name, schema] of Object.entries(shape.registers)) {
    data[name] = readRegister(schema, registers.get(name));
  }
  for (const [name, schema] of Object.entries(shape.collections)) {
    const rich = shape.richText.includes(name);
    const entries: { id: string }[] = [];
    for (const [id, entry] of entriesOf(doc, name)) {
      if (!(entry instanceof Y.Map)) continue;
      const parsed = schema.safeParse(fieldsOf(entry));
      if (!parsed.success) continue;
      const text = entry.get(TEXT);
      entries.push({
        id,
        ...parsed.data,
        ...(rich
          ? { text: richTextOf(text instanceof Y.XmlFragment ? text : new Y.Doc().getXmlFragment()) }
          : {}),
      });
    }
    data[name] = entries.sort((a, b) => (a.id < b.id ? -1 : 1));
  }
  return data as AreaData<S>;
}

export function fieldsOf(entry: Y.Map<unknown>): Record<string, unknown> {
  const fields: Record<string, unknown> = {};
  for (const [field, value] of entry) if (field !== TEXT) fields[field] = value;
  return fields;
}

/** All changes in one transaction, so that a gesture is one step for undo and one update on the wire. */
export function applyChanges<S extends AreaShape>(
  doc: Y.Doc,
  shape: S,
  changes: readonly Change<S>[],
  origin: unknown = null,
): void {
  doc.transact(() => {
    const registers = registersOf(doc);
    if (registers.get(VERSION) === undefined) registers.set(VERSION, shape.version);
    for (const change of changes) {
      if ('register' in change) {
        if (change.value === null) registers.delete(change.register);
        else registers.set(change.register, change.value);
        continue;
      }
      const entries = entriesOf(doc, change.collection);
      if (change.fields === null) {
        entries.delete(change.id);
        continue;
      }
      let entry = entries.get(change.id);
      if (!(entry instanceof Y.Map)) {
        entry = new Y.Map();
        if (shape.richText.includes(change.collection)) entry.set(TEXT, new Y.XmlFragment());
        entries.set(change.id, entry);
      }
      for (const [field, value] of Object.entries(change.fields)) entry.set(field, value);
    }
  }, origin);
}

/** The rich text of an entry, for an editor to bind to; null when the entry is gone. */
export function textOf(doc: Y.Doc, collection: string, id: string): Y.XmlFragment | null {
  const text = entriesOf(doc, collection).get(id)?.get(TEXT);
  return text instanceof Y.XmlFragment ? text : null;
}
