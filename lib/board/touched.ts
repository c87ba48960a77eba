import * as Y from 'yjs';
import type { AreaData, AreaShape, RichText } from '../core/areas/area.ts';
import { entryOf, readRegister } from './area.ts';
import { entriesOf, registersOf, TEXT } from './layout.ts';

type Fields = Record<string, unknown>;

/** Which registers and entries an update has changed, and what stood there before it. */
export class Touched {
  /** False when everything in the update was known already. */
  any = false;
  /** What was there, as it was written; undefined where nothing was. */
  readonly registers = new Map<string, unknown>();
  /** By collection and id; null where there was none. */
  readonly entries = new Map<string, Map<string, Fields | null>>();

  /**
   * Adds what a transaction changed, before Yjs lets go of what it removed; to be called at its end. An update may make a second
   * one, which tidies up: what stood before the first counts.
   */
  add(transaction: Y.Transaction, doc: Y.Doc, { collections }: AreaShape): void {
    // A change to what somebody else has removed leaves no trace but its clock; without it, what follows would not fit.
    this.any ||= grew(transaction) || transaction.deleteSet.clients.size > 0;
    type Changed = Parameters<typeof transaction.changed.get>[0];
    const registers = registersOf(doc);
    for (const key of transaction.changed.get(registers as unknown as Changed) ?? [])
      if (key !== null && !this.registers.has(key))
        this.registers.set(key, heldBefore(registers, key, transaction));
    for (const collection of Object.keys(collections)) {
      const root = entriesOf(doc, collection);
      for (const event of transaction.changedParentTypes.get(root as unknown as Changed) ?? []) {
        const ids =
          event.target === root
            ? (event as Y.YMapEvent<unknown>).keysChanged
            : [entryIdOf(event.target, root)];
        for (const id of ids) this.addEntry(collection, id, root, transaction);
      }
    }
  }

  /** Names of the registers and collections. */
  get names(): string[] {
    return [...this.registers.keys(), ...this.entries.keys()];
  }

  /** The area as it was, made from how it is: what was not touched is the very same. Rich texts are as they are now. */
  before<S extends AreaShape>(shape: S, now: AreaData<S>): AreaData<S> {
    const data: Record<string, unknown> = { ...now };
    for (const [name, value] of this.registers) {
      const schema = Object.hasOwn(shape.registers, name) ? shape.registers[name] : undefined;
      if (schema) data[name] = readRegister(schema, value);
    }
    for (const [name, touched] of this.entries) {
      const entries = new Map((data[name] as { id: string; text?: RichText }[]).map((one) => [one.id, one]));
      for (const [id, fields] of touched) {
        const entry = fields && entryOf(shape.collections[name]!, id, fields);
        const text = entries.get(id)?.text ?? { type: 'doc', content: [] };
        if (entry) entries.set(id, shape.richText.includes(name) ? { ...entry, text } : entry);
        else entries.delete(id);
      }
      data[name] = [...entries.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
    }
    return data as AreaData<S>;
  }

  private addEntry(
    collection: string,
    id: string,
    root: Y.Map<Y.Map<unknown>>,
    transaction: Y.Transaction,
  ): void {
    const entries = this.entries.get(collection) ?? new Map<string, Fields | null>();
    this.entries.set(collection, entries);
    if (entries.has(id)) return;
    const entry = heldBefore(root, id, transaction);
    if (!(entry instanceof Y.Map)) {
      entries.set(id, null);
      return;
    }
    const fields: Fields = {};
    for (const field of entry._map.keys()) {
      const value = field === TEXT ? undefined : heldBefore(entry, field, transaction);
      if (value !== undefined) fields[field] = value;
    }
    entries.set(id, fields);
  }
}

/**
 * What a key of a map held before a transaction; undefined where nothing. Yjs keeps all that was ever written under a key as a list,
 * the last of which counts unless it was removed: so it is the last one that the transaction has not added.
 */
export function heldBefore(
  { _map }: { _map: Map<string, Y.Item> },
  key: string,
  transaction: Y.Transaction,
): unknown {
  const { beforeState, deleteSet } = transaction;
  let item = _map.get(key) ?? null;
  while (item !== null && item.id.clock >= (beforeState.get(item.id.client) ?? 0)) item = item.left;
  if (item === null || (item.deleted && !Y.isDeleted(deleteSet, item.id))) return undefined;
  return item.content.getContent()[item.length - 1];
}

function grew({ beforeState, afterState }: Y.Transaction): boolean {
  for (const [client, clock] of afterState) if (clock > (beforeState.get(client) ?? 0)) return true;
  return false;
}

/** The key under `root` below which a shared type lies. */
function entryIdOf(type: { _item: Y.Item | null }, root: unknown): string {
  let item = type._item;
  while (item !== null && item.parent !== root) item = (item.parent as { _item: Y.Item | null })._item;
  return String(item?.parentSub);
}
