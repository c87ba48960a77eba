import * as Y from 'yjs';
import type { AreaShape } from '../core/areas/area.ts';
import { problemsOf } from './fits.ts';
import { apply, entriesOf, newArea, REGISTERS, registersOf, TEXT } from './layout.ts';
import { allWords, mendText } from './mendText.ts';
import { ageOf, migrate } from './migrate.ts';
import { isPossible } from './possible.ts';
import { checkRichText, richTextOf } from './richText.ts';

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
 * a register or entry that does not fit the shape is taken out, of a rich text only what may not stand in it; all the rest is there.
 * Throws where even so nothing can be opened.
 */
export function openArea(shape: AreaShape, stored: readonly Uint8Array[]): OpenedArea {
  const { doc, unusable } = allAtOnce(shape, stored) ?? oneByOne(shape, stored);
  const changes: Uint8Array[] = [];
  const migrated = migrate(doc, shape);
  if (migrated) changes.push(migrated);
  if (ageOf(doc, shape) === 'same') {
    const before = Y.encodeStateVector(doc);
    const values = [...mendTexts(doc, shape), ...takeOut(doc, shape)];
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
      apply(doc, update);
    } catch {
      leaveOut(update, 'It cannot be applied.');
      doc.destroy();
      doc = newArea(shape);
      for (const one of used) apply(doc, one);
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

/** Damage that earlier versions let in costs a note only what is damaged. */
function mendTexts(doc: Y.Doc, shape: AreaShape): Unusable[] {
  return shape.richText.flatMap((collection) =>
    [...entriesOf(doc, collection)].flatMap(([id, entry]) => {
      const text = entry instanceof Y.Map ? entry.get(TEXT) : null;
      if (!(text instanceof Y.XmlFragment)) return [];
      const checked = checkRichText(text, Number.POSITIVE_INFINITY);
      if (checked.ok) return [];
      const bytes = bytesOf(collection, id, entry);
      mendText(doc, text);
      return [{ kind: 'value' as const, bytes, reason: checked.problem.sentence }];
    }),
  );
}

function takeOut(doc: Y.Doc, shape: AreaShape): Unusable[] {
  const problems = problemsOf(doc, shape);
  if (problems.length === 0) return [];
  return doc.transact(() =>
    problems.map(({ root, key, reason }) => {
      const map = root === REGISTERS ? registersOf(doc) : entriesOf(doc, root);
      const bytes = bytesOf(root, key, map.get(key));
      map.delete(key);
      return { kind: 'value', bytes, reason };
    }),
  );
}

/** A value as JSON, with what JSON does not know as words, as far as it can be written at all. */
function bytesOf(root: string, key: string, value: unknown): Uint8Array {
  const written = (of: unknown) =>
    JSON.stringify({ [root]: { [key]: of } }, (_name, one: unknown) =>
      typeof one === 'bigint' ? String(one) : one,
    );
  try {
    return new TextEncoder().encode(written(plain(value)));
  } catch {
    return new TextEncoder().encode(written('(This cannot be written down.)'));
  }
}

function plain(value: unknown): unknown {
  if (value instanceof Y.XmlFragment) return { ...richTextOf(value), words: allWords(value) };
  if (value instanceof Y.Map)
    return Object.fromEntries([...value].map(([name, field]) => [name, plain(field)]));
  return value instanceof Y.AbstractType ? `(${value.constructor.name})` : value;
}
