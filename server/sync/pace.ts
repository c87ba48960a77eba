import type { WebSocket } from 'ws';

/** Frames a second that a connection may send on and on, and at once after a pause: a dragged move sends some 60. */
const STEADY = 200;
const BURST = 600;

/** Lets a connection that sends too fast wait: nothing it sent is lost, and the others are not kept waiting. */
export class Pace {
  private left = BURST;
  private at: number;
  private timer: NodeJS.Timeout | null = null;

  constructor(
    private readonly socket: WebSocket,
    private readonly now: () => number,
  ) {
    this.at = now();
  }

  /** To be called for each frame. */
  count(): void {
    const now = this.now();
    this.left = Math.min(BURST, this.left + ((now - this.at) / 1000) * STEADY) - 1;
    this.at = now;
    if (this.left > 0 || this.timer) return;
    this.socket.pause();
    this.timer = setTimeout(
      () => {
        this.timer = null;
        this.socket.resume();
      },
      ((1 - this.left) / STEADY) * 1000,
    );
  }

  stop(): void {
    if (this.timer) clearTimeout(this.timer);
    // A paused socket would never see its end.
    this.socket.resume();
  }
}
