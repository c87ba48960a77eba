import * as Y from 'yjs';
import { step2Frame } from './frames.ts';
import type { Deletions } from './known.ts';

/** Bytes of a state vector that anybody honest can have: some twenty thousand pages that have written. */
const LONGEST_VECTOR = 256 * 1024;
/** Answers that are kept for whoever asks the same; most ask with nothing, or with all. */
const MOST_KEPT = 4;
/** How long they are kept when nothing changes: people come together, and an open room is to hold little. */
const KEPT_MS = 2000;

/** What a room answers to "what have I missed": encoded once for as long as its document stays as it is. */
export class Answers {
  private doc: Y.Doc | null = null;
  private readonly kept = new Map<string, Uint8Array>();
  private deleted: Deletions | null = null;
  private timer: NodeJS.Timeout | null = null;
  /** How many were encoded. */
  encoded = 0;

  /** A frame of sync step 2. Throws on a vector that cannot be read. */
  to(doc: Y.Doc, vector: Uint8Array): Uint8Array {
    if (vector.length > LONGEST_VECTOR) throw new RangeError('No board has so many writers.');
    this.follow(doc);
    const key = Buffer.from(vector.buffer, vector.byteOffset, vector.byteLength).toString('latin1');
    const known = this.kept.get(key);
    if (known) return known;
    const frame = step2Frame(Y.encodeStateAsUpdate(doc, vector));
    this.encoded += 1;
    if (this.kept.size >= MOST_KEPT) this.kept.delete(this.kept.keys().next().value as string);
    this.kept.set(key, frame);
    this.timer ??= setTimeout(() => this.forget(), KEPT_MS).unref();
    return frame;
  }

  deletions(doc: Y.Doc): Deletions {
    this.follow(doc);
    this.deleted ??= Y.createDeleteSetFromStructStore(doc.store).clients;
    this.timer ??= setTimeout(() => this.forget(), KEPT_MS).unref();
    return this.deleted;
  }

  /** After a refusal a room's document is another one. */
  private follow(doc: Y.Doc): void {
    if (doc === this.doc) return;
    this.doc?.off('afterTransaction', this.forget);
    this.forget();
    this.doc = doc;
    // Not its `update`, for which Yjs would encode each change once more.
    doc.on('afterTransaction', this.forget);
  }

  private readonly forget = (): void => {
    this.kept.clear();
    this.deleted = null;
    if (this.timer) clearTimeout(this.timer);
    this.timer = null;
  };
}
