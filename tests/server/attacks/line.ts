import { EventEmitter } from 'node:events';
import type { WebSocket } from 'ws';

/**
 * A socket without a network, as a connection of the server uses one. What is said lies in the line until it is let through, so that a
 * test decides what has arrived when the line is cut.
 */
export class Line extends EventEmitter {
  readonly bufferedAmount = 0;
  readonly readyState = 1;
  /** With which the server closed it. */
  code: number | null = null;
  reason = '';
  hear: (frame: Uint8Array) => void = () => undefined;
  onClosed: () => void = () => undefined;
  private up: Uint8Array[] = [];
  private down: Uint8Array[] = [];
  /** Until it is known who speaks, as with a real one. */
  private paused = true;
  private cut = false;

  /** @param held whether what is said waits until `flow` lets it through */
  constructor(private readonly held = false) {
    super();
  }

  /** The socket as the server's end sees it. */
  get socket(): WebSocket {
    return this as unknown as WebSocket;
  }

  get isOpen(): boolean {
    return !this.cut;
  }

  /** The client's end. */
  say(frame: Uint8Array): void {
    if (this.cut) return;
    this.up.push(frame.slice());
    if (!this.held) this.flow();
  }

  /** The client goes, or the line is cut: what has not arrived is gone. */
  leave(): void {
    if (this.cut) return;
    this.cut = true;
    this.up = [];
    this.down = [];
    this.emit('close', 1006);
  }

  /** Lets through what waits, in each direction as many frames as this. */
  flow(most = Number.POSITIVE_INFINITY): void {
    this.flowUp(most);
    this.flowDown(most);
  }

  flowUp(most = Number.POSITIVE_INFINITY): void {
    for (let left = most; left > 0 && this.up.length > 0 && !this.paused && !this.cut; left--)
      this.emit('message', Buffer.from(this.up.shift()!), true);
  }

  flowDown(most = Number.POSITIVE_INFINITY): void {
    for (let left = most; left > 0 && this.down.length > 0; left--) this.hear(this.down.shift()!);
  }

  get waits(): boolean {
    return (this.up.length > 0 && !this.cut) || this.down.length > 0;
  }

  send(frame: Uint8Array, onSent: () => void = () => undefined): void {
    if (this.cut) return;
    this.down.push(Uint8Array.from(frame));
    if (!this.held) this.flow();
    queueMicrotask(onSent);
  }
  close(code: number, reason = ''): void {
    if (this.cut) return;
    // What was sent before still arrives, where nobody cuts the line first.
    if (!this.held) this.flowDown();
    this.cut = true;
    this.code = code;
    this.reason = String(reason);
    this.emit('close', code);
    this.onClosed();
  }
  terminate(): void {
    this.close(1006);
  }
  ping(): void {
    this.emit('pong');
  }
  pause(): void {
    this.paused = true;
  }
  resume(): void {
    this.paused = false;
    if (!this.held) this.flow();
  }
}
