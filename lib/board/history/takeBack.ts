import * as Y from 'yjs';
import type { AreaShape, RichText } from '../../core/areas/area.ts';
import { facts } from '../../core/areas/field.ts';
import { same } from '../../core/edit/canonical.ts';
import { textOf } from '../area.ts';
import { entriesOf, registersOf, TEXT } from '../layout.ts';
import { richTextOf } from '../richText.ts';
import type { EntryStory, Place, Replay } from './replay.ts';
import { changed, rewrite } from './rewrite.ts';

/** What was taken back of an area. */
export interface TakenBack {
  /** Null where there was nothing to take back. */
  update: Uint8Array | null;
  /** Registers, entries, fields and texts that stand again as others left them. */
  undone: number;
  /** A sentence for what could not be taken back, because others built on it. */
  left: string[];
}

/** A text that is to stand again as it was before the writing with this number. */
export interface WantedText {
  collection: string;
  id: string;
  before: number;
}

export const textKey = (collection: string, id: string): string => `${collection}/${id}`;

/** The texts that must be read again from the log, because the document knows no more what they were. */
export function wantedTexts({ entries }: Replay): WantedText[] {
  const wanted: WantedText[] = [];
  for (const [collection, stories] of entries)
    for (const [id, { text }] of stories) {
      if (text === null || (text.removed === null && text.mixed)) continue;
      wanted.push({ collection, id, before: text.mixed ? text.removed! : text.first });
    }
  return wanted;
}

/**
 * Takes back, in the document of a replay, all that they wrote: a place whose last writer they are holds again what others gave
 * it, entries that they made go, entries that they removed come back.
 * @param texts what the texts of `wantedTexts` were, by `textKey`
 */
export function takeBack(
  shape: AreaShape,
  replay: Replay,
  texts: ReadonlyMap<string, RichText | null>,
): TakenBack {
  const left = new Set<string>();
  let undone = 0;
  const taking = new Taking(shape, replay, texts, left);
  const update = changed(replay.doc, (transaction) => {
    undone += taking.registers();
    for (const [collection, stories] of replay.entries)
      for (const [id, story] of stories) undone += taking.entry(collection, id, story, transaction);
  });
  return { update, undone, left: [...left] };
}

class Taking {
  constructor(
    private readonly shape: AreaShape,
    private readonly replay: Replay,
    private readonly texts: ReadonlyMap<string, RichText | null>,
    private readonly left: Set<string>,
  ) {}

  registers(): number {
    const map = registersOf(this.replay.doc);
    let undone = 0;
    for (const [name, place] of this.replay.registers) {
      const called = calledOf(this.shape.registers, name);
      undone += this.put(map, name, place, `${called} stays: somebody else has changed it since.`);
    }
    return undone;
  }

  entry(collection: string, id: string, story: EntryStory, transaction: Y.Transaction): number {
    const there = story.there.get('there');
    const root = entriesOf(this.replay.doc, collection);
    const entry = root.get(id) ?? null;
    const others = there ? there.otherwise === true : entry !== null;
    const called = calledOf(this.shape.collections, collection);
    if (entry && !others) {
      const isBuiltOn = [...story.fields.values()].some(({ last }) => last === 'others') || story.text?.mixed;
      if (isBuiltOn) {
        this.left.add(`${called} stays: somebody else has written in it since.`);
        return 0;
      }
      root.delete(id);
      return 1;
    }
    if (!entry) return others && there?.last === 'theirs' ? this.bringBack(collection, id, story) : 0;
    let undone = 0;
    for (const [name, place] of story.fields)
      undone += this.put(entry, name, place, `${called} stays in part: somebody else has changed it since.`);
    return undone + this.text(collection, id, story, called, transaction);
  }

  private put(map: Y.Map<unknown>, name: string, place: Place, sentence: string): number {
    if (!place.theirs) return 0;
    if (place.last === 'others') {
      this.left.add(sentence);
      return 0;
    }
    if (same(map.get(name) ?? null, place.otherwise ?? null)) return 0;
    if (place.otherwise === undefined) map.delete(name);
    else map.set(name, place.otherwise);
    return 1;
  }

  private bringBack(collection: string, id: string, { fields }: EntryStory): number {
    const entry = new Y.Map<unknown>();
    for (const [name, { otherwise }] of fields) if (otherwise !== undefined) entry.set(name, otherwise);
    if (this.shape.richText.includes(collection)) entry.set(TEXT, new Y.XmlFragment());
    entriesOf(this.replay.doc, collection).set(id, entry);
    this.rewriteText(collection, id);
    return 1;
  }

  private text(
    collection: string,
    id: string,
    { text }: EntryStory,
    called: string,
    transaction: Y.Transaction,
  ): number {
    if (text === null) return 0;
    if (text.removed !== null || !text.mixed) return this.rewriteText(collection, id);
    this.left.add(
      `${called} has words of others beside theirs: what they put in is taken out, what they took out may be missing.`,
    );
    const fragment = textOf(this.replay.doc, collection, id);
    return fragment && takeOut(this.replay.inserted, fragment, transaction) ? 1 : 0;
  }

  private rewriteText(collection: string, id: string): number {
    const fragment = textOf(this.replay.doc, collection, id);
    const text = this.texts.get(textKey(collection, id)) ?? null;
    if (!fragment || text === null || same(richTextOf(fragment), text)) return 0;
    rewrite(fragment, text);
    return 1;
  }
}

/** Deletes what was inserted in a text, and elements that are empty then; never one that holds words of others. */
function takeOut(inserted: Replay['inserted'], fragment: Y.XmlFragment, transaction: Y.Transaction): boolean {
  const words: Y.Item[] = [];
  const elements: Y.Item[] = [];
  const ranges = Y.createDeleteSet();
  for (const [client, clocks] of inserted) ranges.clients.set(client, clocks);
  Y.iterateDeletedStructs(transaction, ranges, (struct) => {
    if (!(struct instanceof Y.Item) || struct.deleted || struct.parentSub !== null) return;
    if (depthIn(struct, fragment) === null) return;
    (struct.content instanceof Y.ContentType ? elements : words).push(struct);
  });
  for (const item of words) item.delete(transaction);
  elements.sort((a, b) => depthIn(b, fragment)! - depthIn(a, fragment)!);
  const empty = elements.filter((item) => {
    const { type } = item.content as Y.ContentType;
    if (type._length > 0) return false;
    item.delete(transaction);
    return true;
  });
  return words.length + empty.length > 0;
}

/** How far down an item lies; null where it lies elsewhere. */
function depthIn(item: Y.Item, fragment: Y.XmlFragment): number | null {
  let depth = 0;
  for (let at: Y.Item | null = item; at !== null; depth++) {
    if (at.parent === fragment) return depth;
    at = (at.parent as { _item: Y.Item | null })._item;
  }
  return null;
}

function calledOf(fields: AreaShape['registers'] | AreaShape['collections'], name: string): string {
  const called = Object.hasOwn(fields, name) ? fields[name]![facts].called : name;
  return `${called[0]!.toUpperCase()}${called.slice(1)}`;
}
