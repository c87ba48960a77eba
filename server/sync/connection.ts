import type { RawData, WebSocket } from 'ws';
import * as Y from 'yjs';
import type { Grant } from '../../lib/access/session.ts';
import { may } from '../../lib/core/areas/rights.ts';
import { type Closing, closings } from '../../lib/protocol/close.ts';
import { LARGEST_FRAME } from '../../lib/protocol/messages.ts';
import type { Metrics } from '../metrics.ts';
import {
  acknowledgedFrame,
  awarenessFrame,
  type Frame,
  readFrame,
  step1Frame,
  step2Frame,
} from './frames.ts';
import { isKnown } from './known.ts';
import { Pace } from './pace.ts';
import type { Member, Room } from './room.ts';

/** Bytes that may wait for a slow reader; the state of a whole area must fit. */
const MOST_WAITING = 2 * LARGEST_FRAME;
/** How long a closing handshake may take. */
export const CLOSING_MS = 2000;
/** Bytes of UTF-8 that a reason may have (RFC 6455, section 5.5.1: 125 with the code's two). */
const LONGEST_REASON = 123;

/** One socket in one room, from the moment its right was checked until it is closed. */
export class Connection implements Member {
  private readonly pace: Pace;
  /** Update and step-2 frames received; the number of an acknowledgement. */
  private received = 0;
  private answersPing = true;
  private open = true;

  constructor(
    private readonly socket: WebSocket,
    private readonly room: Room,
    readonly grant: Grant,
    /** Hash of the session it came with, by which signing out finds it. */
    readonly session: string,
    private readonly metrics: Metrics,
    private readonly options: { acknowledges: boolean; onEnd(closing: Closing | null): void },
  ) {
    this.pace = new Pace(socket, () => performance.now());
    socket.on('message', (data) => this.receive(data));
    socket.on('pong', () => {
      this.answersPing = true;
    });
    socket.on('close', () => this.end(null));
    // The library has closed it.
    socket.on('error', ({ code = '' }: NodeJS.ErrnoException) => {
      this.end(TOO_LONG.includes(code) ? 'tooLarge' : 'malformed');
    });
    room.join(this);
  }

  /** As a stock server greets: what do you have, and who is here. */
  greet(): void {
    this.afterCommits(() => this.send(step1Frame(Y.encodeStateVector(this.room.doc))));
    this.showAll();
  }

  send(frame: Uint8Array): void {
    if (!this.open) return;
    if (this.socket.bufferedAmount > MOST_WAITING) {
      this.close('slow');
      this.socket.terminate();
    } else this.socket.send(frame);
  }

  close(closing: Closing, reason = ''): void {
    if (!this.open) return;
    this.end(closing);
    this.socket.close(closings[closing].code, shortened(reason));
    const timer = setTimeout(() => this.socket.terminate(), CLOSING_MS);
    this.socket.once('close', () => clearTimeout(timer));
  }

  /** Finds out whether the other end is still there. A stock client leaves when it hears nothing for 30 s. */
  ping(): void {
    if (!this.answersPing) {
      this.socket.terminate();
      return;
    }
    this.answersPing = false;
    this.socket.ping();
    this.send(awarenessFrame([]));
  }

  private end(closing: Closing | null): void {
    if (!this.open) return;
    this.open = false;
    if (closing) this.metrics.count('closed', closing);
    this.pace.stop();
    this.room.leave(this);
    const left = this.room.presence.leave(this);
    if (left) this.room.show(left);
    this.options.onEnd(closing);
  }

  private receive(data: RawData): void {
    if (!this.open) return;
    this.pace.count();
    const bytes = bytesOf(data);
    try {
      const frame = readFrame(bytes);
      if (frame === null) this.close('malformed');
      else this.act(frame);
    } catch {
      this.close('malformed');
    }
  }

  private act(frame: Frame): void {
    switch (frame.kind) {
      case 'query awareness':
        this.showAll();
        break;
      case 'awareness': {
        const shown = this.room.presence.take(this, this.grant, frame.update);
        // Back to its sender too: a stock client that hears nothing takes the line for dead.
        if (shown) this.room.show(shown);
        break;
      }
      case 'step 1': {
        const answer = step2Frame(Y.encodeStateAsUpdate(this.room.doc, frame.vector));
        this.afterCommits(() => this.send(answer));
        break;
      }
      case 'update': {
        const number = ++this.received;
        if (may(this.grant.role, this.room.area, 'write')) this.write(frame.update, frame.step2, number);
        else if (isKnown(this.room.doc, frame.update)) this.afterCommits(() => this.acknowledge(number));
        else this.close('noRight');
      }
    }
  }

  private write(update: Uint8Array, step2: boolean, number: number): void {
    const began = performance.now();
    const written = this.room.write(update, this.grant, this);
    if (written.ok) {
      const stored = () => {
        this.metrics.commit((performance.now() - began) / 1000);
        this.acknowledge(number);
      };
      // When storing fails the room closes everybody.
      written.value.then(stored, () => undefined);
      return;
    }
    const { code, sentence } = written.problem;
    // Typed before the first exchange was over: what it builds on comes with the answer to our step 1.
    if (code === 'gap' && !step2) this.send(step1Frame(Y.encodeStateVector(this.room.doc)));
    else this.close(refusals[code] ?? 'invalid', sentence);
  }

  private acknowledge(number: number): void {
    if (this.options.acknowledges) this.send(acknowledgedFrame(number));
  }

  private showAll(): void {
    this.send(awarenessFrame(this.room.presence.all()));
  }

  private afterCommits(then: () => void): void {
    this.room.settled.then(then, () => undefined);
  }
}

/** The library's words for a frame that says to be larger than any may be; its others are for what is no frame of the standard. */
const TOO_LONG = ['WS_ERR_UNSUPPORTED_MESSAGE_LENGTH', 'WS_ERR_UNSUPPORTED_DATA_PAYLOAD_LENGTH'];

/** How a connection is closed for what a room refuses; everything else does not fit the board. */
const refusals: Record<string, Closing> = {
  malformed: 'malformed',
  version: 'reload',
  'too large': 'tooLarge',
  failed: 'failed',
  'no right': 'noRight',
  'not current': 'outdated',
};

/** A sentence as far as a reason holds it; it never ends within a letter. */
function shortened(sentence: string): string {
  const bytes = new TextEncoder().encode(sentence).subarray(0, LONGEST_REASON);
  return new TextDecoder().decode(bytes, { stream: true });
}

function bytesOf(data: RawData): Uint8Array {
  if (Array.isArray(data)) return Buffer.concat(data);
  return data instanceof ArrayBuffer ? new Uint8Array(data) : data;
}
