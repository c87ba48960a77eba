import * as Y from 'yjs';
import type { AreaShape } from '../core/areas/area.ts';
import { bad, good, type Result } from '../core/result.ts';
import { entryProblem, registerProblem } from './fits.ts';
import { entriesOf, newArea, registersOf, VERSION } from './layout.ts';
import { ageOf } from './migrate.ts';
import { structsOf, unknownRoot } from './possible.ts';

/** Who sends an update: the membership is the grant that was given, stamped by the server. */
export interface Writer {
  membership: string;
}

/** An area is tens to hundreds of kilobytes; a document that outgrows this is no board any more. */
export const LARGEST_AREA = 8 * 1024 * 1024;

/**
 * One area's document with a shadow beside it. An update is tried on the shadow first, and what it touched is checked
 * against the shape; only then does it reach the document. A refused update leaves the document as it was.
 */
export class AreaGuard {
  readonly doc: Y.Doc;
  /** Made when somebody writes: of most areas that are open nobody does. */
  private kept: Y.Doc | null = null;

  constructor(
    readonly shape: AreaShape,
    /** The document as it was opened; it is the guard's from now on. */
    opened: Y.Doc = newArea(shape),
  ) {
    this.doc = opened;
  }

  /** Applies the update if this writer may make it. `changed` is false when everything in it was known already. */
  check(update: Uint8Array, writer: Writer, origin: unknown = null): Result<{ changed: boolean }> {
    if (ageOf(this.doc, this.shape) === 'newer')
      return bad('version', 'This board was written by a newer version: it can be read here, not changed.');
    const structs = structsOf(update);
    if (structs === null) return bad('malformed', 'This change cannot be read.');
    // A root that an older version left behind stays in the document; a new one cannot come. Told before it is tried, because
    // a thousand of them would cost much.
    const root = unknownRoot(structs, this.doc);
    if (root !== null)
      return bad('invalid', `The ${this.shape.name} has no part named ${root.slice(0, 40)}.`);
    const tried = this.tryOnShadow(update, writer);
    if (!tried.ok) this.forgetShadow();
    else if (tried.value.changed) Y.applyUpdate(this.doc, update, origin);
    return tried;
  }

  /** Applies what is stored already, by another node that has checked it; gives what of it was new here. */
  take(update: Uint8Array): Uint8Array[] {
    const news: Uint8Array[] = [];
    const note = (added: Uint8Array) => news.push(added);
    this.doc.on('update', note);
    try {
      Y.applyUpdate(this.doc, update);
    } finally {
      this.doc.off('update', note);
    }
    if (news.length > 0 && this.kept) Y.applyUpdate(this.kept, update);
    return news;
  }

  /** Whether something in the document waits for what it builds on. */
  get hasGap(): boolean {
    return this.doc.store.pendingStructs !== null || this.doc.store.pendingDs !== null;
  }

  destroy(): void {
    this.doc.destroy();
    this.forgetShadow();
  }

  private get shadow(): Y.Doc {
    if (this.kept === null) {
      this.kept = newArea(this.shape);
      Y.applyUpdate(this.kept, Y.encodeStateAsUpdate(this.doc));
    }
    return this.kept;
  }

  private forgetShadow(): void {
    this.kept?.destroy();
    this.kept = null;
  }

  private tryOnShadow(update: Uint8Array, writer: Writer): Result<{ changed: boolean }> {
    let touched: Touched | null = null;
    const look = (transaction: Y.Transaction) => {
      touched = touchedBy(transaction, this.shadow, this.shape);
    };
    this.shadow.on('afterTransaction', look);
    try {
      Y.applyUpdate(this.shadow, update);
    } catch {
      return bad('malformed', 'This change cannot be read.');
    } finally {
      this.shadow.off('afterTransaction', look);
    }
    if (this.shadow.store.pendingStructs !== null || this.shadow.store.pendingDs !== null)
      return bad('gap', 'This change builds on one that is missing here: please reload.');
    if (touched === null) return good({ changed: false });
    return this.checkTouched(touched, writer);
  }

  private checkTouched(touched: Touched, writer: Writer): Result<{ changed: boolean }> {
    for (const name of touched.registers) {
      const problem = registerProblem(this.shadow, this.shape, name);
      if (problem) return bad(name === VERSION ? 'version' : 'invalid', problem);
    }
    for (const [collection, ids] of touched.entries)
      for (const id of ids) {
        const problem =
          entryProblem(this.shadow, this.shape, collection, id) ?? this.ownerProblem(collection, id, writer);
        if (problem) return bad('invalid', problem);
      }
    return good({ changed: touched.any });
  }

  private ownerProblem(collection: string, id: string, writer: Writer): string | null {
    const field = this.shape.owner;
    if (field === null) return null;
    const owners = [this.doc, this.shadow].map((doc) => entriesOf(doc, collection).get(id)?.get(field));
    return owners.every((owner) => owner === undefined || owner === writer.membership)
      ? null
      : 'Only the one who wrote a remark may change it.';
  }
}

interface Touched {
  any: boolean;
  registers: Set<string>;
  entries: Map<string, Set<string>>;
}

/** Which registers and entries a transaction changed, from the shared types it touched. */
function touchedBy(transaction: Y.Transaction, doc: Y.Doc, shape: AreaShape): Touched {
  const registers = new Set<string>();
  const entries = new Map<string, Set<string>>();
  // A change to what somebody else has removed leaves no trace but its clock; without it, what follows would not fit.
  const grew = [...transaction.afterState].some(
    ([client, clock]) => clock > (transaction.beforeState.get(client) ?? 0),
  );
  const any = grew || transaction.deleteSet.clients.size > 0;
  type Changed = Parameters<typeof transaction.changed.get>[0];
  for (const key of transaction.changed.get(registersOf(doc) as unknown as Changed) ?? [])
    if (key !== null) registers.add(key);
  for (const collection of Object.keys(shape.collections)) {
    const root = entriesOf(doc, collection);
    const ids = new Set<string>();
    for (const event of transaction.changedParentTypes.get(root as unknown as Changed) ?? []) {
      if (event.target === root) for (const key of (event as Y.YMapEvent<unknown>).keysChanged) ids.add(key);
      else ids.add(entryIdOf(event.target, root));
    }
    if (ids.size > 0) entries.set(collection, ids);
  }
  return { any, registers, entries };
}

/** The key under `root` below which a shared type lies. */
function entryIdOf(type: { _item: Y.Item | null }, root: unknown): string {
  let item = type._item;
  while (item !== null && item.parent !== root) item = (item.parent as { _item: Y.Item | null })._item;
  return String(item?.parentSub);
}
