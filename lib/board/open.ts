import * as Y from 'yjs';
import type { AreaShape } from '../core/areas/area.ts';
import { problemsOf } from './fits.ts';
import { entriesOf, fieldsOf, newArea, REGISTERS, registersOf } from './layout.ts';
import { ageOf, migrate } from './migrate.ts';
import { isPossible } from './possible.ts';
import { richTextOf } from './richText.ts';

/** What could not be used, as it was stored, or as JSON where a single value was taken out; and why. */
export interface Unusable {
  /** A whole stored update, or a value in the document. */
  kind: 'update' | 'value';
  bytes: Uint8Array;
  reason: string;
}

export interface OpenedArea {
  doc: Y.Doc;
  unusable: Unusable[];
  /** What the document holds beyond the stored updates that could be used: to be stored before anybody sees it. */
  changes: Uint8Array[];
}

/**
 * A stored area as a document in the shape of today. An update that cannot be read, or builds on one that cannot, is left out;
 * a register or entry that does not fit the shape is taken out; all the rest is there.
 */
export function openArea(shape: AreaShape, stored: readonly Uint8Array[]): OpenedArea {
  const { doc, unusable } = allAtOnce(shape, stored) ?? oneByOne(shape, stored);
  const changes: Uint8Array[] = [];
  const migrated = migrate(doc, shape);
  if (migrated) changes.push(migrated);
  if (ageOf(doc, shape) === 'same') {
    const before = Y.encodeStateVector(doc);
    const values = takeOut(doc, shape);
    unusable.push(...values);
    if (values.length > 0) changes.push(Y.encodeStateAsUpdate(doc, before));
  }
  return { doc, unusable, changes };
}

type Loaded = Pick<OpenedArea, 'doc' | 'unusable'>;

/** As nearly every area opens; null when something in it cannot be used. */
function allAtOnce(shape: AreaShape, stored: readonly Uint8Array[]): Loaded | null {
  const doc = newArea(shape);
  try {
    doc.transact(() => {
      for (const update of stored) Y.applyUpdate(doc, update);
    });
    if (!hasGap(doc)) return { doc, unusable: [] };
  } catch {
    // Found out below which one it is.
  }
  doc.destroy();
  return null;
}

function oneByOne(shape: AreaShape, stored: readonly Uint8Array[]): Loaded {
  const unusable: Unusable[] = [];
  const used: Uint8Array[] = [];
  const leaveOut = (bytes: Uint8Array, reason: string) => unusable.push({ kind: 'update', bytes, reason });
  let doc = newArea(shape);
  for (const update of stored) {
    if (!isPossible(update)) {
      leaveOut(update, 'It cannot be read.');
      continue;
    }
    try {
      Y.applyUpdate(doc, update);
    } catch {
      leaveOut(update, 'It cannot be applied.');
      doc.destroy();
      doc = newArea(shape);
      for (const one of used) Y.applyUpdate(doc, one);
      continue;
    }
    if (!hasGap(doc)) {
      used.push(update);
      continue;
    }
    leaveOut(update, 'It builds on one that is missing.');
    doc.store.pendingStructs = null;
    doc.store.pendingDs = null;
  }
  return { doc, unusable };
}

const hasGap = ({ store }: Y.Doc): boolean => store.pendingStructs !== null || store.pendingDs !== null;

function takeOut(doc: Y.Doc, shape: AreaShape): Unusable[] {
  const problems = problemsOf(doc, shape);
  if (problems.length === 0) return [];
  return doc.transact(() =>
    problems.map(({ root, key, reason }) => {
      const map = root === REGISTERS ? registersOf(doc) : entriesOf(doc, root);
      const value = JSON.stringify({ [root]: { [key]: plain(map.get(key)) } });
      map.delete(key);
      return { kind: 'value', bytes: new TextEncoder().encode(value), reason };
    }),
  );
}

function plain(value: unknown): unknown {
  if (value instanceof Y.XmlFragment) return richTextOf(value);
  if (!(value instanceof Y.Map)) return value instanceof Y.AbstractType ? value.toJSON() : value;
  const texts = [...value].filter(([, field]) => field instanceof Y.XmlFragment);
  return {
    ...fieldsOf(value),
    ...Object.fromEntries(texts.map(([name, field]) => [name, richTextOf(field as Y.XmlFragment)])),
  };
}
