import * as decoding from 'lib0/decoding';
import * as Y from 'yjs';
import { applyChanges, readArea } from '../../../lib/board/area.ts';
import { newArea } from '../../../lib/board/layout.ts';
import type { AreaData, AreaShape } from '../../../lib/core/areas/area.ts';
import { type AreaName, areas } from '../../../lib/core/areas/board.ts';
import type { Change } from '../../../lib/core/areas/change.ts';
import { messageType, syncType } from '../../../lib/protocol/messages.ts';
import { step1Frame, step2Frame, updateFrame } from '../../../server/sync/frames.ts';

/** The client's end of a line to the server. */
export interface Wire {
  say(frame: Uint8Array): void;
  hear: (frame: Uint8Array) => void;
  readonly isOpen: boolean;
}

/**
 * Somebody honest who speaks the protocol by hand, and knows what was promised: a word that was written counts as promised from
 * the moment at which everything sent was acknowledged, as on our page.
 */
export class Speaker {
  doc: Y.Doc;
  /** Update and step-2 frames of the present connection. */
  private sent = 0;
  private acknowledged = 0;
  private greeted = false;
  private wire: Wire | null = null;
  /** Each with the frame that carries it; null while it is still to be sent. */
  private readonly pending = new Map<string, number | null>();
  readonly promised = new Set<string>();
  private readonly shape: AreaShape;

  /** @param nextClient Yjs's client ids, where a run is to be the same each time */
  constructor(
    readonly area: AreaName,
    private readonly nextClient: (() => number) | null = null,
  ) {
    this.shape = areas[area];
    this.doc = this.newDoc();
  }

  /** The wire's other end is to be told of this client before anything is heard from it. */
  connect(wire: Wire): void {
    if (this.wire) this.wire.hear = () => undefined;
    this.wire = wire;
    this.sent = 0;
    this.acknowledged = 0;
    this.greeted = false;
    for (const word of this.pending.keys()) this.pending.set(word, null);
    wire.hear = (frame) => this.receive(frame);
    wire.say(step1Frame(Y.encodeStateVector(this.doc)));
  }

  get isConnected(): boolean {
    return this.wire?.isOpen ?? false;
  }

  /** All that was written is promised. */
  get isSaved(): boolean {
    return this.isConnected && this.greeted && this.acknowledged === this.sent;
  }

  /** As a page does that was refused: begins anew, and what was not promised is not said again. */
  beginAnew(): void {
    this.doc.destroy();
    this.doc = this.newDoc();
    this.pending.clear();
    this.wire = null;
  }

  /** One gesture, which carries these words. */
  write(words: readonly string[], ...changes: Change<AreaShape>[]): void {
    this.gesture(words, () => applyChanges(this.doc, this.shape, changes));
  }

  gesture(words: readonly string[], act: (doc: Y.Doc) => void): void {
    for (const word of words) this.pending.set(word, null);
    const { sent } = this;
    this.doc.transact(() => act(this.doc));
    if (this.sent > sent) for (const word of words) this.pending.set(word, this.sent);
  }

  /** What is not to be there any longer is promised no more. */
  forget(word: string): void {
    this.pending.delete(word);
    this.promised.delete(word);
  }

  read(): AreaData<AreaShape> {
    return readArea(this.doc, this.shape);
  }

  private newDoc(): Y.Doc {
    const doc = newArea(this.shape);
    if (this.nextClient) doc.clientID = this.nextClient();
    doc.on('update', (update: Uint8Array, origin: unknown) => {
      if (origin !== this && this.isConnected) this.tell(updateFrame(update));
    });
    return doc;
  }

  private tell(frame: Uint8Array): void {
    this.sent += 1;
    this.wire!.say(frame);
  }

  private receive(frame: Uint8Array): void {
    const decoder = decoding.createDecoder(frame);
    const type = decoding.readVarUint(decoder);
    if (type === messageType.acknowledged) this.take(decoding.readVarUint(decoder));
    if (type !== messageType.sync) return;
    const step = decoding.readVarUint(decoder);
    const content = decoding.readVarUint8Array(decoder);
    if (step === syncType.step1) {
      // Counted before it is said: the answer may come within it.
      for (const word of this.pending.keys()) this.pending.set(word, this.sent + 1);
      this.greeted = true;
      this.tell(step2Frame(Y.encodeStateAsUpdate(this.doc, content)));
    } else Y.applyUpdate(this.doc, content, this);
  }

  private take(number: number): void {
    this.acknowledged = number;
    for (const [word, frame] of this.pending)
      if (frame !== null && frame <= number) {
        this.pending.delete(word);
        this.promised.add(word);
      }
  }
}
