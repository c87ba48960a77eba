import * as Y from 'yjs';
import type { AreaShape } from '../../core/areas/area.ts';
import { entriesOf, newArea, registersOf, TEXT, VERSION } from '../layout.ts';
import { isIn, isNew } from '../putOut.ts';
import { heldBefore } from '../touched.ts';

/** Those whose writing is looked into, or anybody else. */
export type Side = 'theirs' | 'others';

/** A register, a field of an entry, or whether an entry is there. */
export interface Place {
  /** What it would hold without what they wrote; undefined for nothing. */
  otherwise: unknown;
  last: Side;
  /** Whether they wrote it at all. */
  theirs: boolean;
}

/** The rich text of an entry, once they have touched it. */
export interface TextStory {
  /** Number of the writing that did so first. */
  first: number;
  /** Number of the writing that removed it with its entry; null while it is there. */
  removed: number | null;
  /** Whether others have written in it since they did. */
  mixed: boolean;
}

export interface EntryStory {
  there: Map<'there', Place>;
  fields: Map<string, Place>;
  text: TextStory | null;
}

/** Clocks that a client has written. */
interface Range {
  clock: number;
  len: number;
}

/** Plays an area's log again from an earlier state on, and notes for each place that was written by whom, and what stands without them. */
export class Replay {
  readonly doc: Y.Doc;
  readonly registers = new Map<string, Place>();
  /** By collection and id. */
  readonly entries = new Map<string, Map<string, EntryStory>>();
  /** What they inserted, by client. */
  readonly inserted = new Map<number, Range[]>();

  constructor(
    private readonly shape: AreaShape,
    earlier: readonly Uint8Array[],
  ) {
    this.doc = newArea(shape);
    for (const update of earlier) this.apply(update);
  }

  /** One that cannot be used is left out, as it is when the area is opened. */
  add(update: Uint8Array, side: Side, number: number): void {
    const look = (transaction: Y.Transaction) => this.look(transaction, side, number);
    this.doc.on('afterTransaction', look);
    this.apply(update);
    this.doc.off('afterTransaction', look);
  }

  private apply(update: Uint8Array): void {
    try {
      Y.applyUpdate(this.doc, update);
    } catch {
      // Damaged: it is no part of what anybody reads.
    }
  }

  private look(transaction: Y.Transaction, side: Side, number: number): void {
    if (side === 'theirs') this.noteInserted(transaction);
    const registers = registersOf(this.doc);
    for (const [type, keys] of transaction.changed) {
      const names = [...keys].filter((key) => key !== null);
      if (!(type instanceof Y.Map)) {
        this.noteText(type, side, number);
        continue;
      }
      if (type === registers) {
        for (const name of names)
          if (name !== VERSION && hasMoved(registers, name, transaction))
            note(this.registers, name, heldBefore(registers, name, transaction), registers.get(name), side);
        continue;
      }
      const collection = this.collectionOf(type);
      if (collection !== null)
        for (const id of names) this.noteEntry(collection, id, transaction, side, number);
      else this.noteFields(type, names, transaction, side);
    }
  }

  private noteInserted({ beforeState, afterState }: Y.Transaction): void {
    for (const [client, after] of afterState) {
      const clock = beforeState.get(client) ?? 0;
      if (after > clock)
        this.inserted.set(client, [...(this.inserted.get(client) ?? []), { clock, len: after - clock }]);
    }
  }

  private noteEntry(
    collection: string,
    id: string,
    transaction: Y.Transaction,
    side: Side,
    number: number,
  ): void {
    const root = entriesOf(this.doc, collection);
    if (!hasMoved(root, id, transaction)) return;
    const was = entryIn(heldBefore(root, id, transaction));
    const is = entryIn(root.get(id));
    const story = this.storyOf(collection, id);
    note(story.there, 'there', was !== null, is !== null, side);
    for (const name of new Set([...(was?._map.keys() ?? []), ...(is?.keys() ?? [])]))
      if (name !== TEXT)
        note(story.fields, name, was ? heldBefore(was, name, transaction) : undefined, is?.get(name), side);
    if (!this.shape.richText.includes(collection)) return;
    if (side === 'theirs')
      story.text = { first: number, mixed: false, ...story.text, removed: was ? number : null };
    else if (story.text) story.text = { ...story.text, removed: null, mixed: true };
  }

  private noteFields(type: Y.Map<unknown>, names: string[], transaction: Y.Transaction, side: Side): void {
    const root = type._item?.parent;
    const collection = root instanceof Y.Map ? this.collectionOf(root) : null;
    if (collection === null) return;
    const { fields } = this.storyOf(collection, type._item!.parentSub!);
    for (const name of names)
      if (name !== TEXT && hasMoved(type, name, transaction))
        note(fields, name, heldBefore(type, name, transaction), type.get(name), side);
  }

  private noteText(type: { _item: Y.Item | null }, side: Side, number: number): void {
    let item = type._item;
    while (item !== null && item.parentSub !== TEXT) item = (item.parent as { _item: Y.Item | null })._item;
    const entry = item?.parent;
    const root = entry instanceof Y.Map ? entry._item?.parent : null;
    const collection = root instanceof Y.Map ? this.collectionOf(root) : null;
    if (collection === null) return;
    const story = this.storyOf(collection, (entry as Y.Map<unknown>)._item!.parentSub!);
    if (side === 'theirs') story.text ??= { first: number, removed: null, mixed: false };
    else if (story.text) story.text.mixed = true;
  }

  private collectionOf(type: Y.Map<unknown>): string | null {
    return Object.keys(this.shape.collections).find((one) => entriesOf(this.doc, one) === type) ?? null;
  }

  private storyOf(collection: string, id: string): EntryStory {
    const stories = this.entries.get(collection) ?? new Map<string, EntryStory>();
    this.entries.set(collection, stories);
    const story = stories.get(id) ?? { there: new Map(), fields: new Map(), text: null };
    stories.set(id, story);
    return story;
  }
}

type Held = { _map: Map<string, Y.Item> };

const entryIn = (value: unknown): Y.Map<unknown> | null => (value instanceof Y.Map ? value : null);

/** The write that holds under a key came or went with this transaction: one that was put out at once changes nothing. */
function hasMoved({ _map }: Held, key: string, { beforeState, deleteSet }: Y.Transaction): boolean {
  const item = _map.get(key);
  return item !== undefined && (isNew(beforeState, item) || isIn(deleteSet, item));
}

function note<K>(places: Map<K, Place>, key: K, was: unknown, is: unknown, side: Side): void {
  const place = places.get(key) ?? { otherwise: was, last: side, theirs: false };
  place.last = side;
  if (side === 'theirs') place.theirs = true;
  else place.otherwise = is;
  places.set(key, place);
}
