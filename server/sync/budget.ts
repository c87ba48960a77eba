import type { Duplex } from 'node:stream';
import type { WebSocket } from 'ws';
import { LARGEST_FRAME } from '../../lib/protocol/messages.ts';

/** The part of the event loop's time that a link has steadily, and the milliseconds that it may use at once after a pause. */
const SHARE = 0.25;
const BURST_MS = 200;
/** How long the work of one link goes on before others have their turn, and that of all before the loop looks for what has come. */
const SLICE_MS = 5;
const TURN_MS = 15;
/** Connections of one link, and of those in one room: each person's page has five areas, in several tabs and on several devices. */
const MOST_CONNECTIONS = 120;
const MOST_IN_A_ROOM = 24;
/** Bytes of messages that have begun to come and have no end yet, of all connections of a link: two of the largest. */
const MOST_UNFINISHED = 2 * LARGEST_FRAME;
/** Bytes that wait to be read, of all connections of a link. */
const MOST_UNREAD = 32 * 1024 * 1024;
/** What one read of a socket brings at most; less is not worth a count. */
const CHUNK = 64 * 1024;

interface Line {
  socket: WebSocket;
  room: object;
  /** Bytes since the last whole message. */
  unfinished: number;
}

/**
 * What one link may cost the others: a token bucket of milliseconds of the event loop, shared by all its connections. Whatever comes
 * beyond waits, in order, and the sockets of the link are read no further meanwhile: so what waits is never more than what one read
 * of a socket has brought, and nothing is lost.
 */
export class Budget {
  private left = BURST_MS;
  private at: number;
  private readonly lines = new Set<Line>();
  private readonly queue: (() => void)[] = [];
  private isPaused = false;
  private isRunning = false;
  /** Used since the loop looked for what has come, and when that was. */
  private used = 0;
  private turn = 0;
  /** While a chunk is taken apart: when that began, and what of it is counted already. */
  private chunkBegan = 0;
  private counted = 0;
  private timer: NodeJS.Timeout | null = null;

  constructor(
    private readonly turns: Turns,
    private readonly now: () => number = () => performance.now(),
  ) {
    this.at = now();
  }

  get isIdle(): boolean {
    if (this.lines.size > 0 || this.queue.length > 0) return false;
    this.refill();
    return this.left >= BURST_MS;
  }

  get hasWork(): boolean {
    return this.queue.length > 0;
  }

  get hasTime(): boolean {
    this.refill();
    return this.left > 0;
  }

  /** Whether one more connection may come to this room. */
  hasPlaceIn(room: object): boolean {
    if (this.lines.size >= MOST_CONNECTIONS) return false;
    let beside = 0;
    for (const line of this.lines) if (line.room === room) beside += 1;
    return beside < MOST_IN_A_ROOM;
  }

  /**
   * Counts what a socket of this link costs, until its line is down: also what its library does before a message is whole.
   * @param onTooMuch called when the link holds too many bytes of unfinished messages, of which this socket has just brought some
   */
  watch(socket: WebSocket, raw: Duplex, room: object, onTooMuch: () => void): void {
    const line: Line = { socket, room, unfinished: 0 };
    this.lines.add(line);
    raw.once('close', () => this.lines.delete(line));
    raw.prependListener('data', (chunk: Uint8Array) => {
      line.unfinished += chunk.length;
      this.chunkBegan = this.now();
      this.counted = 0;
    });
    socket.prependListener('message', () => {
      line.unfinished = 0;
    });
    raw.on('data', () => {
      this.charge(this.now() - this.chunkBegan - this.counted);
      if (line.unfinished > CHUNK && this.sum((one) => one.unfinished) > MOST_UNFINISHED) onTooMuch();
    });
    if (this.isPaused) socket.pause();
  }

  /** Whether too much of what was sent to this link waits to be read; asked only by a connection of which much does. */
  get isUnread(): boolean {
    return this.sum(({ socket }) => socket.bufferedAmount) > MOST_UNREAD;
  }

  /** Does the work now where there is time for it, else after what waits already; what it throws is its own matter. */
  run(work: () => void): void {
    if (this.isRunning) work();
    else if (this.queue.length === 0 && this.hasTurn()) this.measure(work);
    else {
      this.queue.push(work);
      this.wait();
    }
  }

  /** For what is done later, or by somebody else, because of this link. */
  charge(ms: number): void {
    this.left -= ms;
    this.usedNow(ms);
    // The clock is asked only where it matters: this is done three times for each update.
    if (this.left <= 0 && !this.hasTime) this.wait();
  }

  /** Works off what waits, for one slice. */
  work(): void {
    this.refill();
    const until = this.now() + SLICE_MS;
    while (this.queue.length > 0 && this.left > 0 && this.now() < until) this.measure(this.queue.shift()!);
    if (this.queue.length === 0 && this.left > 0) this.resume();
    else if (this.left <= 0) this.wait();
  }

  stop(): void {
    if (this.timer) clearTimeout(this.timer);
    this.queue.length = 0;
    this.resume();
  }

  private measure(work: () => void): void {
    const began = this.now();
    this.isRunning = true;
    try {
      work();
    } finally {
      this.isRunning = false;
      const ms = this.now() - began;
      this.counted += ms;
      this.charge(ms);
    }
  }

  /** Reads no more of the link's sockets until it has time again and nothing waits. */
  private wait(): void {
    if (!this.isPaused) {
      this.isPaused = true;
      for (const { socket } of this.lines) socket.pause();
    }
    if (this.left > 0) this.turns.add(this);
    else
      this.timer ??= setTimeout(
        () => {
          this.timer = null;
          this.turns.add(this);
        },
        (SLICE_MS - this.left) / SHARE,
      );
  }

  private resume(): void {
    if (!this.isPaused) return;
    this.isPaused = false;
    // The one that was read first waits longest the next time.
    const [first] = this.lines;
    if (first) {
      this.lines.delete(first);
      this.lines.add(first);
    }
    for (const { socket } of this.lines) socket.resume();
  }

  private hasTurn(): boolean {
    if (this.turn !== this.turns.count) return this.hasTime;
    return this.used < SLICE_MS && this.hasTime;
  }

  private usedNow(ms: number): void {
    const turn = this.turns.now();
    if (turn !== this.turn) this.used = 0;
    this.turn = turn;
    this.used += ms;
  }

  private refill(): void {
    const now = this.now();
    this.left = Math.min(BURST_MS, this.left + (now - this.at) * SHARE);
    this.at = now;
  }

  private sum(of: (line: Line) => number): number {
    let sum = 0;
    for (const line of this.lines) sum += of(line);
    return sum;
  }
}

/** Whose turn it is: the links of which something waits, one after the other and a slice each, with the loop's own work between. */
export class Turns {
  private readonly ready = new Set<Budget>();
  private planned = false;
  private counting = false;
  /** Of the turns of the loop in which anything was counted. */
  count = 0;

  /** The number of this turn of the loop. */
  now(): number {
    if (!this.counting) {
      this.counting = true;
      setImmediate(() => {
        this.counting = false;
        this.count += 1;
      });
    }
    return this.count;
  }

  add(budget: Budget): void {
    this.ready.add(budget);
    if (this.planned) return;
    this.planned = true;
    setImmediate(() => this.take());
  }

  private take(): void {
    this.planned = false;
    const until = performance.now() + TURN_MS;
    // Who comes again meanwhile has its turn after all others.
    for (const budget of [...this.ready]) {
      if (performance.now() > until) break;
      this.ready.delete(budget);
      budget.work();
      if (budget.hasWork && budget.hasTime) this.ready.add(budget);
    }
    if (this.ready.size > 0 && !this.planned) {
      this.planned = true;
      setImmediate(() => this.take());
    }
  }
}
