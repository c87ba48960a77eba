import * as Y from 'yjs';
import type { AreaShape } from '../core/areas/area.ts';
import type { Lost, LostPlace } from '../core/areas/lost.ts';
import { same } from '../core/edit/canonical.ts';
import { entriesOf, registersOf } from './layout.ts';
import { entryOf, isIn, isNew, plainOf, putOut } from './putOut.ts';

type Root = Y.Map<unknown>;
type Field = [name: string, item: Y.Item];

/**
 * Tells of values that were written while somebody else wrote the same place and that do not stand: what this document held and
 * what arrives puts out, and what arrives and is put out by what it held. Of two that arrive together nothing is told: so a
 * document is loaded. All is read before the transaction ends, when Yjs lets go of what was put out.
 *
 * Not told: that somebody cleared a register while another wrote it. Yjs keeps no trace of who had seen a value cleared.
 */
export class LostWatch {
  /** The update that is being applied; null where it is not known as it came. */
  private arriving: Uint8Array | null = null;

  constructor(
    private readonly doc: Y.Doc,
    private readonly shape: AreaShape,
    private readonly tell: (lost: Lost[]) => void,
  ) {
    doc.on('afterTransaction', (transaction) => this.look(transaction));
  }

  /**
   * Applies an update of which it is thereby known what it deletes by its own word. Whoever deletes an entry deletes each value
   * that they see in it; a value that falls with the entry and is not named they had not seen.
   */
  during(update: Uint8Array, apply: () => void): void {
    const { pendingStructs, pendingDs } = this.doc.store;
    // What has waited until now is applied with it, and deletes by another's word.
    this.arriving = pendingStructs || pendingDs ? null : update;
    try {
      apply();
    } finally {
      this.arriving = null;
    }
  }

  private look(transaction: Y.Transaction): void {
    const { local, beforeState, deleteSet } = transaction;
    if (local || beforeState.size === 0 || deleteSet.clients.size === 0) return;
    const told: Lost[] = [];
    for (const [map, names] of transaction.changed) {
      if (!(map instanceof Y.Map)) continue;
      for (const name of names) if (name !== null) told.push(...this.lostAt(transaction, map, name));
    }
    if (told.length > 0) this.tell(told);
  }

  private lostAt(transaction: Y.Transaction, map: Root, name: string): Lost[] {
    const { registers, collections } = this.shape;
    if (map === registersOf(this.doc))
      return Object.hasOwn(registers, name) ? this.values(transaction, map, name, { register: name }) : [];
    const root = map._item ? map._item.parent : map;
    const collection = Object.keys(collections).find((one) => entriesOf(this.doc, one) === root);
    if (collection === undefined) return [];
    if (map === root) return this.entries(transaction, map, collection, name);
    return this.values(transaction, map, name, { collection, id: map._item!.parentSub!, field: name });
  }

  /** Of a register or a field. */
  private values(transaction: Y.Transaction, map: Root, name: string, place: LostPlace): Lost[] {
    const { holds, out } = putOut(transaction, map, name);
    const stands = holds && !holds.deleted ? plainOf(holds) : null;
    return out
      .filter(({ item, seen, together }) => !seen && !together && plainOf(item) !== undefined)
      .filter(({ item }) => !same(plainOf(item), stands))
      .map(({ item }) => this.lost(place, item, stands, null));
  }

  /** Of the fields of an entry that is no more, or in whose place there is another. */
  private entries(transaction: Y.Transaction, map: Root, collection: string, id: string): Lost[] {
    const { holds, out } = putOut(transaction, map, id);
    const other = holds && !holds.deleted ? entryOf(holds) : null;
    return out.flatMap(({ item, seen, together }) => {
      const fell = [...(entryOf(item)?._map ?? [])].filter(
        ([, field]) => isIn(transaction.deleteSet, field) && plainOf(field) !== undefined,
      );
      const unseen = together ? [] : seen ? this.unseen(transaction, fell) : fell;
      const whole = other ? null : Object.fromEntries(fell.map(([name, field]) => [name, plainOf(field)]));
      return unseen
        .filter(([name, field]) => !same(plainOf(field), other?.get(name)))
        .map(([name, field]) =>
          this.lost({ collection, id, field: name }, field, other?.get(name) ?? null, whole),
        );
    });
  }

  /** What this document held and whoever deleted its entry had not seen. */
  private unseen({ beforeState }: Y.Transaction, fell: Field[]): Field[] {
    if (this.arriving === null || fell.length === 0) return [];
    const { ds } = Y.decodeUpdate(this.arriving);
    return fell.filter(([, item]) => !isIn(ds, item) && !isNew(beforeState, item));
  }

  private lost(place: LostPlace, item: Y.Item, stands: unknown, entry: Lost['entry']): Lost {
    return { ...place, lost: plainOf(item), stands, mine: item.id.client === this.doc.clientID, entry };
  }
}
