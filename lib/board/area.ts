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
 * The area as plain data, that of an older document in the shape of today. What does not satisfy the shape (only possible in a
 * document that no server checked) reads as unset, so that every reader sees the same valid board.
 */
export function readArea<S extends AreaShape>(doc: Y.Doc, shape: S): AreaData<S> {
  return readParts(doc, shape, partsOf(shape)) as AreaData<S>;
}

const partsOf = ({ registers, collections }: AreaShape) => [
  ...Object.keys(registers),
  ...Object.keys(collections),
];

/** The registers and collections of these names. */
export function readParts(doc: Y.Doc, shape: AreaShape, names: Iterable<string>): Record<string, unknown> {
  const data: Record<string, unknown> = {};
  const lifted = ageOf(doc, shape) === 'older' ? liftedOf(doc, shape) : null;
  for (const name of names) {
    const register = shape.registers[name];
    if (register)
      data[name] = readRegister(register, lifted ? lifted.registers[name] : registersOf(doc).get(name));
    const schema = shape.collections[name];
    if (!schema) continue;
    const read = lifted
      ? Object.entries(lifted.collections[name] ?? {}).map(([id, fields]) => entryOf(schema, id, fields))
      : [...entriesOf(doc, name)].map(([id, entry]) => readEntry(schema, id, entry));
    const entries = read.filter((entry) => entry !== null).sort((a, b) => (a.id < b.id ? -1 : 1));
    data[name] = shape.richText.includes(name)
      ? entries.map((entry) => ({ ...entry, text: wordsOf(doc, name, entry.id) }))
      : entries;
  }
  return data;
}

/** Reads an area again and again: only what has changed since the last time is read anew. */
export class AreaReader<S extends AreaShape> {
  private data: Record<string, unknown> = {};
  private readonly changed: Set<string>;

  constructor(
    private readonly doc: Y.Doc,
    private readonly shape: S,
  ) {
    this.changed = new Set(partsOf(shape));
    registersOf(doc).observe(({ keysChanged }) => {
      // With another version everything may read otherwise.
      for (const name of keysChanged.has(VERSION) ? partsOf(shape) : keysChanged)
        this.changed.add(name as string);
    });
    for (const name of Object.keys(shape.collections))
      entriesOf(doc, name).observeDeep(() => this.changed.add(name));
  }

  /** The same object as before where nothing has changed; so is each part of it, so that work on it need not be done again. */
  read(): AreaData<S> {
    if (this.changed.size > 0) {
      // Of an older document a part may be made from others.
      const isOlder = ageOf(this.doc, this.shape) === 'older';
      const names = isOlder ? partsOf(this.shape) : this.changed;
      this.data = { ...this.data, ...readParts(this.doc, this.shape, names) };
      this.changed.clear();
    }
    return this.data as AreaData<S>;
  }
}

interface Entry {
  id: string;
}
type Fields = Record<string, unknown>;

/** Null where the fields do not satisfy the shape. */
export function entryOf(schema: Schema, id: string, fields: Fields): Entry | null {
  const { data } = schema.safeParse(fields);
  return data === undefined ? null : { id, ...(data as object) };
}

const readEntries = new WeakMap<Y.Map<unknown>, { schema: Schema; fields: Fields; entry: Entry | null }>();

/** An entry whose fields are as they were reads as the same object, as a register does. */
function readEntry(schema: Schema, id: string, map: unknown): Entry | null {
  if (!(map instanceof Y.Map)) return null;
  const fields = fieldsOf(map);
  const known = readEntries.get(map);
  if (known?.schema === schema && isSame(known.fields, fields)) return known.entry;
  const entry = entryOf(schema, id, fields);
  readEntries.set(map, { schema, fields, entry });
  return entry;
}

/** Both hold the very same values under the same names. */
function isSame(one: object, other: object): boolean {
  const [a, b] = [Object.entries(one), Object.entries(other)];
  return a.length === b.length && a.every(([name, value], i) => name === b[i]![0] && value === b[i]![1]);
}

const wordsOf = (doc: Y.Doc, collection: string, id: string): RichText =>
  richTextOf(textOf(doc, collection, id) ?? new Y.Doc().getXmlFragment());

/** All changes in one transaction, so that a gesture is one update on the wire. */
export function applyChanges<S extends AreaShape>(doc: Y.Doc, shape: S, changes: readonly Change<S>[]): void {
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
  });
}

/** The rich text of an entry, for an editor to bind to; null when the entry is gone. */
export function textOf(doc: Y.Doc, collection: string, id: string): Y.XmlFragment | null {
  const text = entriesOf(doc, collection).get(id)?.get(TEXT);
  return text instanceof Y.XmlFragment ? text : null;
}
