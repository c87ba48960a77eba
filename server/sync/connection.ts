import type { RawData, WebSocket } from 'ws';
import * as Y from 'yjs';
import type { Grant } from '../../lib/access/session.ts';
import { may } from '../../lib/core/areas/rights.ts';
import { type Closing, closings, FROZEN } from '../../lib/protocol/close.ts';
import { LARGEST_FRAME } from '../../lib/protocol/messages.ts';
import type { Metrics } from '../metrics.ts';
import type { Budget } from './budget.ts';
import { acknowledgedFrame, awarenessFrame, type Frame, readFrame, step1Frame } from './frames.ts';
import { isKnown } from './known.ts';
import type { Member, Room } from './room.ts';

/** Bytes that may wait for a slow reader; the state of a whole area must fit, also of one that an earlier version let grow larger. */
const MOST_WAITING = 4 * LARGEST_FRAME;
/** Bytes that wait for a reader who keeps up. */
const LITTLE = 256 * 1024;
/** Milliseconds of the loop that an update takes beyond the step in which it is judged: to store it and to send it on. */
const STORING_MS = 0.25;
/** How long an answer waits before it looks again whether others of the link were read. */
const UNREAD_MS = 100;
/** How long a closing handshake may take. */
export const CLOSING_MS = 2000;
/** Bytes of UTF-8 that a reason may have (RFC 6455, section 5.5.1: 125 with the code's two). */
const LONGEST_REASON = 123;

/** One socket in one room, from the moment its right was checked until it is closed. */
export class Connection implements Member {
  private readonly budget: Budget;
  /** Update and step-2 frames received; the number of an acknowledgement. */
  private received = 0;
  private answersPing = true;
  private open = true;
  /** What it was asked for last and has not answered, and whether an answer is on its way. */
  private owed: Uint8Array | null = null;
  private isAnswering = false;
  /** It has not been shown all, because it reads slowly; and whether all is on its way to it. */
  private missed = false;
  private isShowing = false;

  constructor(
    private readonly socket: WebSocket,
    private readonly room: Room,
    readonly grant: Grant,
    /** Hash of the session it came with, by which signing out finds it. */
    readonly session: string,
    private readonly metrics: Metrics,
    private readonly options: {
      /** Its link's. */
      budget: Budget;
      acknowledges: boolean;
      onEnd(closing: Closing | null): void;
    },
  ) {
    this.budget = options.budget;
    socket.on('message', (data) => {
      if (this.open) this.budget.run(() => this.receive(data));
    });
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

  send(frame: Uint8Array, passing = false): void {
    if (!this.open) return;
    const waiting = this.socket.bufferedAmount;
    if (passing && waiting > LITTLE) this.missed = true;
    else if (passing && this.missed) this.showAll();
    else if (waiting > MOST_WAITING || (waiting > LITTLE && this.budget.isUnread)) this.cut();
    else this.socket.send(frame);
  }

  /** For one who does not read, or holds too much that nobody can read. */
  cut(): void {
    this.close('slow');
    this.socket.terminate();
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
    if (this.missed && this.socket.bufferedAmount <= LITTLE) this.showAll();
    else this.send(awarenessFrame([]), this.missed);
  }

  private end(closing: Closing | null): void {
    if (!this.open) return;
    this.open = false;
    if (closing) this.metrics.count('closed', closing);
    this.owed = null;
    this.room.leave(this);
    const left = this.room.presence.leave(this);
    if (left) this.room.show(left);
    this.options.onEnd(closing);
  }

  private receive(data: RawData): void {
    // It may have waited for its turn.
    if (!this.open) return;
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
        if (shown) this.room.show(shown, (ms) => this.budget.charge(ms));
        break;
      }
      case 'step 1':
        this.owed = frame.vector;
        if (!this.isAnswering) this.answer();
        break;
      case 'update': {
        const number = ++this.received;
        const mayWrite = may(this.grant.role, this.room.area, 'write');
        if (mayWrite && !this.grant.frozen) this.write(frame.update, frame.step2, number);
        else if (this.knows(frame.update)) this.afterCommits(() => this.acknowledge(number));
        else this.close('noRight', mayWrite ? FROZEN : '');
      }
    }
  }

  /**
   * One answer at a time is on its way: whoever asks again meanwhile is answered once, when it is out. The newest question counts;
   * it comes from somebody who holds no less than before.
   */
  private answer(): void {
    const vector = this.owed;
    if (vector === null) return;
    if (this.budget.isUnread) {
      this.isAnswering = true;
      setTimeout(() => this.answerNext(), UNREAD_MS);
      return;
    }
    this.owed = null;
    const answer = this.room.answers.to(this.room.doc, vector);
    this.isAnswering = true;
    this.afterCommits(() => {
      if (this.open) this.socket.send(answer, () => this.answerNext());
    });
  }

  private answerNext(): void {
    this.isAnswering = false;
    if (this.owed === null) return;
    this.budget.run(() => {
      try {
        if (this.open && !this.isAnswering) this.answer();
      } catch {
        this.close('malformed');
      }
    });
  }

  private knows(update: Uint8Array): boolean {
    const { doc, answers } = this.room;
    return isKnown(doc, update, () => answers.deletions(doc));
  }

  private write(update: Uint8Array, step2: boolean, number: number): void {
    const began = performance.now();
    const written = this.room.write(update, this.grant, this);
    if (written.ok) {
      const stored = () => {
        this.metrics.commit((performance.now() - began) / 1000);
        this.acknowledge(number);
      };
      this.budget.charge(STORING_MS);
      // When storing fails the room has closed everybody; whatever else goes wrong, this one comes again and is told anew.
      written.value.then(stored).catch(() => this.close('failed'));
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

  /** One at a time too, and after any number of questions meanwhile one more. */
  private showAll(): void {
    this.missed = this.isShowing;
    if (this.isShowing || !this.open) return;
    this.isShowing = true;
    this.socket.send(awarenessFrame(this.room.presence.all()), () => {
      this.isShowing = false;
      if (this.missed) this.budget.run(() => this.showAll());
    });
  }

  private afterCommits(then: () => void): void {
    this.room.settled.then(then).catch(() => this.close('failed'));
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
