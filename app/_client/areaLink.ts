import { clone, type Decoder, readVarUint, readVarUint8Array } from 'lib0/decoding';
import { WebsocketProvider } from 'y-websocket';
import type * as Y from 'yjs';
import { AreaReader } from '@/lib/board/area.ts';
import { newArea } from '@/lib/board/layout.ts';
import { LostWatch } from '@/lib/board/lostWatch.ts';
import type { AreaShape } from '@/lib/core/areas/area.ts';
import type { Lost } from '@/lib/core/areas/lost.ts';
import { closingOf, closings } from '@/lib/protocol/close.ts';
import { messageType, syncPath, syncType } from '@/lib/protocol/messages.ts';
import { LocalCopy } from './localCopy.ts';
import { countingSocket, type SentFrames } from './sentFrames.ts';

/** Milliseconds after which nobody waits for this device's copy any longer. */
const LATE = 3000;

export interface LinkOptions {
  /** `/sync` addresses start here, e.g. ws://host */
  server: string;
  board: string;
  membership: string;
  role: string;
  /** Something about the link changed: its connection, or what is acknowledged. */
  onChange(): void;
  /** The document changed. */
  onUpdate(): void;
  /** The server refused what was written here; `doc` still holds it. */
  onRefused(sentence: string, doc: Y.Doc): void;
  /** Nothing of the board may stay on this device; `closed` says why. */
  onForget(): void;
  /** What the link may do has changed. */
  onRight(): void;
  /** Two wrote the same at the same time; absent where nobody is to be told. */
  onLost?: ((lost: Lost[]) => void) | undefined;
}

/** One area's document, its connection and its copy on this device. */
export class AreaLink {
  readonly doc: Y.Doc;
  readonly reader: AreaReader<AreaShape>;
  readonly provider: WebsocketProvider;
  /** Null in a browser that has no place for it. */
  private readonly local: LocalCopy | null;
  private readonly sent: SentFrames;
  private acknowledged = 0;
  /** Set by a close code after which no reconnecting helps. */
  closed: string | null = null;
  /** It is damaged and was set apart: nobody can open it, while the others stand. */
  apart = false;
  /** Why the connection is tried again, until it is there. */
  passing: string | null = null;

  constructor(
    readonly shape: AreaShape,
    options: LinkOptions,
  ) {
    this.doc = newArea(shape);
    this.reader = new AreaReader(this.doc, shape);
    // The name carries the membership: a second tab with more rights must not upload what the server refused this one.
    const name = `${options.membership}/${options.board}/${shape.name}`;
    this.local = hasPlace() ? new LocalCopy(name, this.doc, options.onChange) : null;
    const counting = countingSocket();
    this.sent = counting.sent;
    this.provider = new WebsocketProvider(options.server + syncPath(options.board), shape.name, this.doc, {
      params: { as: options.role, ack: '1' },
      disableBc: true,
      WebSocketPolyfill: counting.Socket,
      maxBackoffTime: 4000,
    });
    this.provider.messageHandlers[messageType.acknowledged] = (_encoder, decoder) => {
      this.acknowledged = readVarUint(decoder);
      options.onChange();
    };
    if (options.onLost) watchFor(options.onLost, this.provider, shape);
    this.provider.on('status', ({ status }) => {
      if (status === 'connecting') this.acknowledged = 0;
      options.onChange();
    });
    this.provider.on('sync', (synced) => {
      if (synced) this.passing = null;
      options.onChange();
    });
    this.provider.on('connection-close', (event) => {
      const closing = event ? closingOf(event.code) : null;
      if (!event || closing === null) return;
      const { page, sentence } = closings[closing];
      if (page === 'opens anew') options.onRefused(event.reason || sentence, this.doc);
      else if (page === 'tries again') this.passing = sentence;
      else this.closed = sentence;
      this.apart = closing === 'apart';
      if (page === 'forgets') options.onForget();
      if (closing === 'changed') options.onRight();
      options.onChange();
    });
    this.doc.on('update', options.onUpdate);
    window.addEventListener('offline', this.onOffline);
  }

  /**
   * A socket whose network is gone stays open for half a minute, and the screen would say "saved" meanwhile. It is left at
   * once and tried anew, since the server may be on this very machine.
   */
  private readonly onOffline = (): void => {
    if (!this.provider.shouldConnect) return;
    this.provider.disconnect();
    this.provider.connect();
  };

  get connected(): boolean {
    return this.provider.wsconnected && this.provider.synced;
  }

  /** Everything written here is stored by the server. */
  get saved(): boolean {
    return this.connected && this.acknowledged >= this.sent.count;
  }

  /** What was written here would still be there if the page were opened anew. */
  get isKept(): boolean {
    return this.loaded || this.acknowledged >= this.sent.count;
  }

  /** The copy on this device has been read, and is kept from now on. */
  get loaded(): boolean {
    return this.local?.loaded ?? false;
  }

  /** What this device keeps of the area is in the document, or does not come: some devices keep nothing. */
  async whenRead(): Promise<void> {
    const late = new Promise((resolve) => setTimeout(resolve, LATE));
    await Promise.race([this.local?.whenRead, late]);
  }

  async forget(): Promise<void> {
    await this.local?.clear();
  }

  destroy(): void {
    window.removeEventListener('offline', this.onOffline);
    this.provider.destroy();
    this.local?.close();
    this.doc.destroy();
  }
}

/** Tells what arrives by this connection from what else changes the document. */
function watchFor(
  onLost: (lost: Lost[]) => void,
  { doc, messageHandlers }: WebsocketProvider,
  shape: AreaShape,
): void {
  const watch = new LostWatch(doc, shape, onLost);
  const sync = messageHandlers[messageType.sync]!;
  messageHandlers[messageType.sync] = (encoder, decoder, ...more) => {
    const apply = () => sync(encoder, decoder, ...more);
    const update = updateIn(clone(decoder));
    if (update) watch.during(update, apply);
    else apply();
  };
}

/** The update that a frame brings, of whose type this is the rest; null where it brings none. */
function updateIn(frame: Decoder): Uint8Array | null {
  const kind = readVarUint(frame);
  return kind === syncType.step2 || kind === syncType.update ? readVarUint8Array(frame) : null;
}

/** Some private windows have no such place, and some browsers refuse even the question. */
function hasPlace(): boolean {
  try {
    return Boolean(window.indexedDB);
  } catch {
    return false;
  }
}
