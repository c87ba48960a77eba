import * as Y from 'yjs';
import type { AreaData, AreaShape } from '../core/areas/area.ts';
import type { Role } from '../core/areas/people.ts';
import { bad, good, type Problem, type Result } from '../core/result.ts';
import { AreaReader, readArea } from './area.ts';
import { entryProblem, registerProblem } from './fits.ts';
import { apply, entriesOf, newArea, registersOf, VERSION } from './layout.ts';
import { ageOf } from './migrate.ts';
import { placeProblem } from './placed.ts';
import { type ReadUpdate, readUpdate } from './possible.ts';
import { Touched } from './touched.ts';
import { UpdateLog } from './updateLog.ts';

/** Who sends an update: the membership is the grant that was given, stamped by the server. */
export interface Writer {
  membership: string;
  role?: Role;
  /** The server itself brings back what stood in this area before: then it may be anybody's. */
  bringsBack?: boolean;
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

/** Updates that are kept one by one until they are put together. */
const MOST_ACCEPTED = 500;

/** Entries of one collection; a board has tens. */
const MOST_ENTRIES = 2000;

/** Remarks that the instructor has removed and may bring back. */
const MOST_REMOVED = 100;

/**
 * One area's document. An update is looked at before it touches the document, so that nearly all that is wrong or forged leaves it
 * alone; then it is applied, and what it touched is checked against the shape. Where it is refused, or anything throws, the document
 * is made again from what was accepted, in the same step: so nobody ever sees a document that holds more or less than that.
 */
export class AreaGuard {
  private current: Y.Doc;
  /** All that the document holds, as updates; noted from the first writing on, because in most open areas nobody writes. */
  private accepted: UpdateLog | null = null;
  /** Reads the current document, once somebody has asked what it holds. */
  private reader: AreaReader<AreaShape> | null = null;
  /** While an update is tried: the document without it, once that was needed. */
  private before: Y.Doc | null = null;
  /** And what is said in either, by collection. */
  private readonly told = new Map<string, Compared>();
  /** What entries said that the instructor has removed, by collection and id. */
  private readonly removed = new Map<string, string>();

  constructor(
    readonly shape: AreaShape,
    /** The document as it was opened; it is the guard's from now on. */
    opened: Y.Doc = newArea(shape),
  ) {
    this.current = opened;
  }

  /** After a refusal it is another one. */
  get doc(): Y.Doc {
    return this.current;
  }

  /** What it holds, as plain data; what stays as it was is the same object each time. */
  read(): AreaData<AreaShape> {
    this.reader ??= new AreaReader(this.doc, this.shape);
    return this.reader.read();
  }

  /**
   * Applies the update if this writer may make it. `changed` is false when everything in it was known already. Throws where the
   * document cannot be made again: then it is of no use any more.
   * @param read what `readUpdate` reads in the update, where that is known
   */
  check(
    update: Uint8Array,
    writer: Writer,
    read = readUpdate(update),
    permit: Permit = ANYTHING,
  ): Result<{ changed: boolean }> {
    if (ageOf(this.doc, this.shape) === 'newer')
      return bad('version', 'This board was written by a newer version: it can be read here, not changed.');
    if (read === null) return bad('malformed', 'This change cannot be read.');
    const misplaced = this.misplaced(read);
    if (misplaced !== null) return bad(misplaced.code, misplaced.sentence);
    this.accepted ??= new UpdateLog(Y.encodeStateAsUpdate(this.doc));
    let taken = false;
    try {
      const tried = this.tried(update, writer, permit);
      if (tried.ok && tried.value.changed) this.accept(update);
      taken = tried.ok;
      return tried;
    } finally {
      if (!taken) this.takeBack();
      this.before?.destroy();
      this.before = null;
      this.told.clear();
    }
  }

  /** Nothing was touched yet: so whatever throws here is no reason to end a room, and what made it throw is refused. */
  private misplaced(read: ReadUpdate): Problem | null {
    try {
      return placeProblem(read, this.doc, this.shape);
    } catch {
      return bad('malformed', 'This change cannot be read.').problem;
    }
  }

  /** Applies what is stored already, by another node that has checked it. */
  add(update: Uint8Array): void {
    apply(this.doc, update);
    this.accepted?.push(update);
  }

  /** The same, where some of it may be known; gives what of it was new here. */
  take(update: Uint8Array): Uint8Array[] {
    const news: Uint8Array[] = [];
    const note = (added: Uint8Array) => news.push(added);
    this.doc.on('update', note);
    try {
      apply(this.doc, update);
    } finally {
      this.doc.off('update', note);
    }
    for (const update of news) this.accepted?.push(update);
    return news;
  }

  /** Whether something in the document waits for what it builds on. */
  get hasGap(): boolean {
    return this.doc.store.pendingStructs !== null || this.doc.store.pendingDs !== null;
  }

  destroy(): void {
    this.doc.destroy();
  }

  private accept(update: Uint8Array): void {
    this.accepted?.push(update);
    if ((this.accepted?.length ?? 0) > MOST_ACCEPTED)
      this.accepted = new UpdateLog(Y.encodeStateAsUpdate(this.doc));
  }

  private takeBack(): void {
    this.current.destroy();
    this.reader = null;
    this.current = this.before ?? this.remade();
    this.before = null;
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
      // Some go in only as they were accepted, each after what the one before it has removed is gone.
      const other = newArea(this.shape);
      for (const update of updates) apply(other, update);
      return other;
    }
  }

  private tried(update: Uint8Array, writer: Writer, permit: Permit): Result<{ changed: boolean }> {
    const { doc } = this;
    const before = this.owners();
    const touched = new Touched();
    const look = (transaction: Y.Transaction) => touched.add(transaction, doc, this.shape);
    doc.on('afterTransaction', look);
    try {
      apply(doc, update);
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
    for (const [collection, ids] of touched.entries) {
      for (const id of ids.keys()) {
        const problem =
          entryProblem(this.doc, this.shape, collection, id) ??
          this.ownerProblem(collection, id, before, writer);
        if (problem) return bad('invalid', problem);
      }
      if (this.hasTooMany(collection, ids))
        return bad('too large', `${collection}: there are too many: please remove some first.`);
    }
    return null;
  }

  private hasTooMany(collection: string, touched: ReadonlyMap<string, unknown>): boolean {
    const entries = entriesOf(this.doc, collection);
    for (const [id, was] of touched) if (was === null && entries.has(id)) return entries.size > MOST_ENTRIES;
    return false;
  }

  private ownerProblem(
    collection: string,
    id: string,
    before: Owners,
    { membership, role, bringsBack }: Writer,
  ): string | null {
    const { owner } = this.shape;
    if (owner === null || bringsBack) return null;
    const was = before.get(collection)?.get(id);
    const entry = entriesOf(this.doc, collection).get(id);
    if ([was, entry?.get(owner)].every((one) => one === undefined || one === membership)) return null;
    const key = `${collection}/${id}`;
    const said = this.compared(collection);
    if (role === 'instructor' && entry === undefined) {
      this.removed.set(key, said.before.get(id) ?? '');
      if (this.removed.size > MOST_REMOVED) this.removed.delete(this.removed.keys().next().value!);
      return null;
    }
    const is = said.after.get(id);
    // Every page tidies up formatting after what others write, and sends that, too: no change to what anybody reads.
    if (is === said.before.get(id)) return null;
    if (role === 'instructor' && was === undefined && is !== undefined && is === this.removed.get(key))
      return null;
    return 'Only the one who wrote a remark may change it.';
  }

  /** What each entry of a collection says without the update that is tried, and with it; read once, and only when asked for. */
  private compared(collection: string): Compared {
    const known = this.told.get(collection);
    if (known) return known;
    this.before ??= this.remade();
    const [before, after] = [this.before, this.doc].map((doc) => {
      const entries = readArea(doc, this.shape)[collection] as { id: string }[];
      return new Map(entries.map((entry) => [entry.id, JSON.stringify(entry)]));
    });
    const compared = { before: before!, after: after! };
    this.told.set(collection, compared);
    return compared;
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

/** Whose each entry is, by collection and id. */
type Owners = Map<string, Map<string, unknown>>;
/** What entries say, by id, as text to be compared. */
interface Compared {
  before: ReadonlyMap<string, string>;
  after: ReadonlyMap<string, string>;
}
