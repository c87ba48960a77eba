import * as Y from 'yjs';
import type { AreaData, AreaShape, RichText } from '../core/areas/area.ts';
import type { Change } from '../core/areas/change.ts';
import { entriesOf, fieldsOf, registersOf, TEXT, VERSION } from './layout.ts';
import { ageOf, liftedOf } from './migrate.ts';
import { richTextOf } from './richText.ts';

type Schema = AreaShape['registers'][string];
const read = new WeakMap<Schema, WeakMap<object, unknown>>();

/**
 * A register's value is replaced and never altered: the same object is parsed once and reads as the same object, so that work on
 * it (a song's frames, its grid) need not be done again at each change of something else.
 */
export function readRegister(schema: Schema, value: unknown): unknown {
  const parse = () => schema.safeParse(value).data ?? null;
  if (typeof value !== 'object' || value === null) return parse();
  const known = read.get(schema) ?? new WeakMap<object, unknown>();
  read.set(schema, known);
  if (!known.has(value)) known.set(value, parse());
  return known.get(value);
}

/**
 * The area as plain data, that of an older document in the shape of today. What does not satisfy the shape (only possible in a document that no server checked) reads as
 * unset, so that every reader sees the same valid board.
 */
export function readArea<S extends AreaShape>(doc: Y.Doc, shape: S): AreaData<S> {
  const data: Record<string, unknown> = {};
  const lifted = ageOf(doc, shape) === 'older' ? liftedOf(doc, shape) : null;
  const registers = registersOf(doc);
  for (const [name, schema] of Object.entries(shape.registers)) {
    data[name] = readRegister(schema, lifted ? lifted.registers[name] : registers.get(name));
  }
  for (const [name, schema] of Object.entries(shape.collections)) {
    const entries: { id: string }[] = [];
    for (const [id, fields] of lifted
      ? Object.entries(lifted.collections[name] ?? {})
      : entriesIn(doc, name)) {
      const parsed = schema.safeParse(fields);
      if (!parsed.success) continue;
      const text = shape.richText.includes(name) ? { text: wordsOf(doc, name, id) } : {};
      entries.push({ id, ...parsed.data, ...text });
    }
    data[name] = entries.sort((a, b) => (a.id < b.id ? -1 : 1));
  }
  return data as AreaData<S>;
}

function* entriesIn(doc: Y.Doc, collection: string): Generator<[string, Record<string, unknown>]> {
  for (const [id, entry] of entriesOf(doc, collection))
    if (entry instanceof Y.Map) yield [id, fieldsOf(entry)];
}

const wordsOf = (doc: Y.Doc, collection: string, id: string): RichText =>
  richTextOf(textOf(doc, collection, id) ?? new Y.Doc().getXmlFragment());

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
