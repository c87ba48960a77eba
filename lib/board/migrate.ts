import * as Y from 'yjs';
import type { AreaShape } from '../core/areas/area.ts';
import { collectionsOf, entriesOf, fieldsOf, registersOf, TEXT, VERSION } from './layout.ts';
import { migrations as all } from './migrations/list.ts';
import type { Migration, RawArea } from './migrations/migration.ts';

export type Age = 'older' | 'same' | 'newer';

/**
 * How a document stands to the shape that reads it. An empty one is of whatever version writes it first; a version that never was
 * makes nothing older.
 */
export function ageOf(doc: Y.Doc, shape: AreaShape, migrations: readonly Migration[] = all): Age {
  const version = versionOf(doc) ?? shape.version;
  if (version > shape.version) return 'newer';
  return stepFrom(version, shape, migrations) ? 'older' : 'same';
}

const stepFrom = (from: number, shape: AreaShape, migrations: readonly Migration[]): Migration | undefined =>
  migrations.find((one) => one.area === shape.name && one.from === from && from < shape.version);

function versionOf(doc: Y.Doc): number | null {
  const version = registersOf(doc).get(VERSION);
  return typeof version === 'number' ? version : null;
}

/** An older document's data in the shape of today; throws where a step is missing, which a test of the list rules out. */
export function liftedOf(doc: Y.Doc, shape: AreaShape, migrations: readonly Migration[] = all): RawArea {
  let data = rawOf(doc);
  for (let from = versionOf(doc) ?? shape.version; from < shape.version; from++) {
    const step = stepFrom(from, shape, migrations);
    if (step === undefined)
      throw new Error(`No migration leads from version ${from} of the ${shape.name} on.`);
    data = step.lift(data);
  }
  return data;
}

/**
 * Brings an older document to today's shape, as one change that is to be stored; null where there is nothing to do. Only the
 * server does this, while nobody has the document open; pages read an older one through `liftedOf`.
 */
export function migrate(
  doc: Y.Doc,
  shape: AreaShape,
  migrations: readonly Migration[] = all,
): Uint8Array | null {
  if (ageOf(doc, shape, migrations) !== 'older') return null;
  const before = Y.encodeStateVector(doc);
  const old = rawOf(doc);
  const { registers, collections } = liftedOf(doc, shape, migrations);
  doc.transact(() => {
    write(registersOf(doc), old.registers, registers);
    for (const name of new Set([...Object.keys(old.collections), ...Object.keys(collections)])) {
      const entries = entriesOf(doc, name);
      const [was, becomes] = [old.collections[name] ?? {}, collections[name] ?? {}];
      for (const id of Object.keys(was)) if (!Object.hasOwn(becomes, id)) entries.delete(id);
      for (const [id, fields] of Object.entries(becomes)) {
        if (!entries.has(id)) entries.set(id, newEntry(shape, name));
        write(entries.get(id)!, was[id] ?? {}, fields);
      }
    }
    registersOf(doc).set(VERSION, shape.version);
  });
  return Y.encodeStateAsUpdate(doc, before);
}

function newEntry(shape: AreaShape, collection: string): Y.Map<unknown> {
  const entry = new Y.Map<unknown>();
  if (shape.richText.includes(collection)) entry.set(TEXT, new Y.XmlFragment());
  return entry;
}

/** What differs is set, what is gone is removed, the rest stays as it was written. */
function write(
  map: Y.Map<unknown>,
  was: Readonly<Record<string, unknown>>,
  becomes: Readonly<Record<string, unknown>>,
): void {
  for (const name of Object.keys(was)) if (!Object.hasOwn(becomes, name)) map.delete(name);
  for (const [name, value] of Object.entries(becomes)) if (value !== was[name]) map.set(name, value);
}

function rawOf(doc: Y.Doc): RawArea {
  const registers: Record<string, unknown> = {};
  for (const [name, value] of registersOf(doc)) if (name !== VERSION) registers[name] = value;
  const collections: Record<string, Record<string, Record<string, unknown>>> = {};
  for (const name of collectionsOf(doc)) {
    const entries: Record<string, Record<string, unknown>> = Object.create(null);
    for (const [id, entry] of entriesOf(doc, name)) if (entry instanceof Y.Map) entries[id] = fieldsOf(entry);
    collections[name] = entries;
  }
  return { registers, collections };
}
