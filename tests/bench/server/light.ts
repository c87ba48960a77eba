import * as decoding from 'lib0/decoding';
import { WebSocket } from 'ws';
import type { AreaName } from '../../../lib/core/areas/board.ts';
import type { Role } from '../../../lib/core/areas/people.ts';
import { messageType, syncPath, syncType } from '../../../lib/protocol/messages.ts';
import { step1Frame, step2Frame, updateFrame } from '../../../server/sync/frames.ts';
import { Hand } from './hand.ts';

/** A place in one area of a board. */
export interface Seat {
  /** `ws://host:port` */
  address: string;
  board: string;
  area: AreaName;
  role: Role;
  cookie: string;
}

/** What a person hears. */
export interface Ears {
  /** Somebody else's update, by client and clock of its first struct. */
  onSeen?(client: number, clock: number): void;
  onClosed?(code: number): void;
}

const NOTHING = Uint8Array.of(0, 0);

/** Somebody in one area who speaks the protocol by hand and holds no document, so that thousands fit into one process. */
export class Light {
  /** Update and step-2 frames sent, and how many of them are acknowledged. */
  sent = 0;
  acknowledged = 0;
  /** The frame and the clock of each edit sent. */
  readonly edits: { frame: number; clock: number }[] = [];
  /** Made with the first edit, because most people only look. */
  private own: Hand | null = null;
  private closed = false;
  private readonly greeted: (() => void)[] = [];

  private constructor(
    private readonly socket: WebSocket,
    readonly seat: Seat,
    private readonly ears: Ears,
  ) {
    socket.on('message', (data) => this.hear(data as Uint8Array));
    socket.on('error', () => undefined);
    socket.on('close', (code) => {
      if (!this.closed) ears.onClosed?.(code);
      this.closed = true;
    });
  }

  /** Resolves when the area's state has come; with the closing code when it was refused. */
  static open(seat: Seat, ears: Ears = {}): Promise<Light | number> {
    const { address, board, area, role, cookie } = seat;
    return new Promise((resolve) => {
      const socket = new WebSocket(`${address}${syncPath(board)}/${area}?as=${role}&ack=1`, {
        headers: { cookie },
        perMessageDeflate: false,
        skipUTF8Validation: true,
      });
      const light = new Light(socket, seat, {
        ...ears,
        onClosed(code) {
          resolve(code);
          ears.onClosed?.(code);
        },
      });
      light.greeted.push(() => resolve(light));
      socket.on('open', () => socket.send(step1Frame(Uint8Array.of(0))));
    });
  }

  get hand(): Hand {
    this.own ??= new Hand();
    return this.own;
  }

  /** Sends the next edit, if the line is open. */
  edit(): { client: number; clock: number } | null {
    if (this.closed || this.socket.readyState !== WebSocket.OPEN) return null;
    const { update, clock } = this.hand.next();
    this.sent += 1;
    this.edits.push({ frame: this.sent, clock });
    this.socket.send(updateFrame(update));
    return { client: this.hand.client, clock };
  }

  /** Resolves when the line is down. */
  leave(): Promise<void> {
    if (this.closed) return Promise.resolve();
    this.closed = true;
    const down = new Promise<void>((resolve) => this.socket.once('close', () => resolve()));
    this.socket.close();
    return down;
  }

  private hear(frame: Uint8Array): void {
    const decoder = decoding.createDecoder(frame);
    const type = decoding.readVarUint(decoder);
    if (type === messageType.acknowledged) this.acknowledged = decoding.readVarUint(decoder);
    if (type !== messageType.sync) return;
    const step = decoding.readVarUint(decoder);
    if (step === syncType.step1) {
      this.sent += 1;
      this.socket.send(step2Frame(NOTHING));
      return;
    }
    if (step === syncType.step2) for (const tell of this.greeted.splice(0)) tell();
    else this.see(decoding.readVarUint8Array(decoder));
  }

  /** Of an update only where it begins: the number of clients, that of structs, then client and clock. */
  private see(update: Uint8Array): void {
    const decoder = decoding.createDecoder(update);
    if (decoding.readVarUint(decoder) === 0) return;
    decoding.readVarUint(decoder);
    const client = decoding.readVarUint(decoder);
    if (client !== this.own?.client) this.ears.onSeen?.(client, decoding.readVarUint(decoder));
  }
}
