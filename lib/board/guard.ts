import * as Y from 'yjs';
import type { AreaData, AreaShape } from '../core/areas/area.ts';
import { bad, good, type Problem, type Result } from '../core/result.ts';
import { AreaReader, readArea } from './area.ts';
import { entryProblem, registerProblem } from './fits.ts';
import { entriesOf, newArea, registersOf, VERSION } from './layout.ts';
import { ageOf } from './migrate.ts';
import { structsOf, unknownRoot } from './possible.ts';
import { Touched } from './touched.ts';

/** Who sends an update: the membership is the grant that was given, stamped by the server. */
export interface Writer {
  membership: string;
}

/** What an update would change, for whoever decides whether it may. */
export interface Tried {
  /** Names of the registers and collections that it touches. */
  touched: readonly string[];
  /** Whether a register has a value with it. */
  isSet(register: string): boolean;
  /** The area without it and with it; read only when asked for. */
  read(): { before: AreaData<AreaShape>; after: AreaData<AreaShape> };
}

/** Decides about an update that fits the shape, before anybody sees it. */
export type Permit = (tried: Tried) => Problem | null;
const ANYTHING: Permit = () => null;

/** An area is tens to hundreds of kilobytes; a document that outgrows this is no board any more. */
export const LARGEST_AREA = 8 * 1024 * 1024;

/** Updates that are kept one by one until they are put together. */
const MOST_ACCEPTED = 500;

/**
 * One area's document. An update is applied, and what it touched is checked against the shape; where it is refused, the
 * document is made again from what was accepted, before anybody sees it. So a refused update leaves it as it was.
 */
export class AreaGuard {
  /** Null from a refusal on until it is asked for. */
  private current: Y.Doc | null;
  /** All that the document holds, as updates; noted from the first writing on, because in most open areas nobody writes. */
  private accepted: Uint8Array[] | null = null;
  /** Reads the current document, once somebody has asked what it holds. */
  private reader: AreaReader<AreaShape> | null = null;

  constructor(
    readonly shape: AreaShape,
    /** The document as it was opened; it is the guard's from now on. */
    opened: Y.Doc = newArea(shape),
  ) {
    this.current = opened;
  }

  /** After a refusal it is another one. */
  get doc(): Y.Doc {
    this.current ??= this.remade();
    return this.current;
  }

  /** What it holds, as plain data; what stays as it was is the same object each time. */
  read(): AreaData<AreaShape> {
    this.reader ??= new AreaReader(this.doc, this.shape);
    return this.reader.read();
  }

  /**
   * Applies the update if this writer may make it. `changed` is false when everything in it was known already.
   * @param structs what `structsOf` reads in the update, where that is known
   */
  check(
    update: Uint8Array,
    writer: Writer,
    structs = structsOf(update),
    permit: Permit = ANYTHING,
  ): Result<{ changed: boolean }> {
    if (ageOf(this.doc, this.shape) === 'newer')
      return bad('version', 'This board was written by a newer version: it can be read here, not changed.');
    if (structs === null) return bad('malformed', 'This change cannot be read.');
    // A root that an older version left behind stays in the document; a new one cannot come. Told before it is tried, because
    // a thousand of them would cost much.
    const root = unknownRoot(structs, this.doc);
    if (root !== null)
      return bad('invalid', `The ${this.shape.name} has no part named ${root.slice(0, 40)}.`);
    this.accepted ??= [Y.encodeStateAsUpdate(this.doc)];
    let taken = false;
    try {
      const tried = this.tried(update, writer, permit);
      taken = tried.ok;
      if (tried.ok && tried.value.changed) this.accepted.push(new Uint8Array(update));
      return tried;
    } finally {
      if (!taken) this.forget();
      if (this.accepted.length > MOST_ACCEPTED) this.accepted = [Y.encodeStateAsUpdate(this.doc)];
    }
  }

  /** Applies what is stored already, by another node that has checked it. */
  add(update: Uint8Array): void {
    Y.applyUpdate(this.doc, update);
    this.accepted?.push(update);
  }

  /** The same, where some of it may be known; gives what of it was new here. */
  take(update: Uint8Array): Uint8Array[] {
    const news: Uint8Array[] = [];
    const note = (added: Uint8Array) => news.push(added);
    this.doc.on('update', note);
    try {
      Y.applyUpdate(this.doc, update);
    } finally {
      this.doc.off('update', note);
    }
    this.accepted?.push(...news);
    return news;
  }

  /** Whether something in the document waits for what it builds on. */
  get hasGap(): boolean {
    return this.doc.store.pendingStructs !== null || this.doc.store.pendingDs !== null;
  }

  destroy(): void {
    this.doc.destroy();
  }

  private forget(): void {
    this.current?.destroy();
    this.current = null;
    this.reader = null;
  }

  private remade(): Y.Doc {
    const updates = this.accepted ?? [];
    const doc = newArea(this.shape);
    try {
      doc.transact(() => {
        for (const update of updates) Y.applyUpdate(doc, update);
      });
      return doc;
    } catch {
      return oneByOne(this.shape, updates);
    }
  }

  private tried(update: Uint8Array, writer: Writer, permit: Permit): Result<{ changed: boolean }> {
    const { doc } = this;
    const before = this.owners();
    // In a formatted text Yjs tidies up after an update, in a transaction of its own, which says nothing of the update.
    const touched = new Touched();
    const look = (transaction: Y.Transaction) => touched.add(transaction, doc, this.shape);
    doc.on('afterTransaction', look);
    try {
      Y.applyUpdate(doc, update);
    } catch {
      return bad('malformed', 'This change cannot be read.');
    } finally {
      doc.off('afterTransaction', look);
    }
    if (this.hasGap) return bad('gap', 'This change builds on one that is missing here: please reload.');
    const misfit = this.misfitOf(touched, before, writer);
    if (misfit) return misfit;
    const refused = permit({
      touched: touched.names,
      isSet: (register) => registersOf(doc).has(register),
      read: () => {
        const after = this.read();
        return { before: touched.before(this.shape, after), after };
      },
    });
    return refused ? bad(refused.code, refused.sentence) : good({ changed: touched.any });
  }

  private misfitOf(touched: Touched, before: Owners, writer: Writer): { ok: false; problem: Problem } | null {
    for (const name of touched.registers.keys()) {
      const problem = registerProblem(this.doc, this.shape, name);
      if (problem) return bad(name === VERSION ? 'version' : 'invalid', problem);
    }
    for (const [collection, ids] of touched.entries)
      for (const id of ids.keys()) {
        const problem =
          entryProblem(this.doc, this.shape, collection, id) ??
          this.ownerProblem(collection, id, before, writer);
        if (problem) return bad('invalid', problem);
      }
    return null;
  }

  private ownerProblem(collection: string, id: string, before: Owners, writer: Writer): string | null {
    const { owner } = this.shape;
    if (owner === null) return null;
    const owners = [before.get(collection)?.get(id), entriesOf(this.doc, collection).get(id)?.get(owner)];
    return owners.every((one) => one === undefined || one === writer.membership) ||
      this.readsAsBefore(collection, id)
      ? null
      : 'Only the one who wrote a remark may change it.';
  }

  /** Every page tidies up formatting after what others write, and sends that, too: no change to what anybody reads. */
  private readsAsBefore(collection: string, id: string): boolean {
    const before = this.remade();
    const [was, is] = [before, this.doc].map((doc) => {
      const entries = readArea(doc, this.shape)[collection] as { id: string }[];
      return JSON.stringify(entries.find((entry) => entry.id === id));
    });
    before.destroy();
    return was === is;
  }

  private owners(): Owners {
    const { owner, collections } = this.shape;
    const owners: Owners = new Map();
    if (owner === null) return owners;
    for (const collection of Object.keys(collections)) {
      const entries = [...entriesOf(this.doc, collection)];
      owners.set(collection, new Map(entries.map(([id, entry]) => [id, entry.get(owner)])));
    }
    return owners;
  }
}

/**
 * As they were accepted, since Yjs tidies up after each. One that will not go in all the same is left out: it is stored, and whoever
 * opens the area next is told.
 */
function oneByOne(shape: AreaShape, updates: readonly Uint8Array[]): Y.Doc {
  const doc = newArea(shape);
  for (const update of updates) {
    try {
      Y.applyUpdate(doc, update);
    } catch {
      // Left out.
    }
  }
  return doc;
}

/** Whose each entry is, by collection and id. */
type Owners = Map<string, Map<string, unknown>>;
