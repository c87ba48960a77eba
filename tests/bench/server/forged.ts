import { WebSocket } from 'ws';
import * as Y from 'yjs';
import { closings } from '../../../lib/protocol/close.ts';
import { LARGEST_FRAME } from '../../../lib/protocol/messages.ts';
import { step2Frame, updateFrame } from '../../../server/sync/frames.ts';
import { Hand } from './hand.ts';
import { Light, type Seat } from './light.ts';

const { malformed, invalid, noRight, tooLarge, reload } = closings;

/** A frame that nobody honest sends, with the code that must close its sender. */
export interface Forged {
  name: string;
  frame(): Uint8Array;
  code: number;
  /** Who sends it; a member who may write here, unless said otherwise. */
  as: Seat;
  /** Every so many of the others one of this kind, where it is a heavy one. */
  seldom?: number;
}

const updateOf = (make: (doc: Y.Doc) => void): Uint8Array => {
  const doc = new Y.Doc();
  // Of two who set the same value at once the higher client id wins: so that this one always does.
  doc.clientID = 2 ** 32 - 1;
  make(doc);
  return Y.encodeStateAsUpdate(doc);
};
const deep = (depth: number): unknown => (depth === 0 ? 1 : { a: deep(depth - 1) });
const noise = (length: number) => Uint8Array.from({ length }, () => Math.floor(Math.random() * 256));

/** `member` and `other` are two who may write the plan, `reader` one who may not. */
export async function forgedFrames(member: Seat, other: Seat, reader: Seat): Promise<Forged[]> {
  // Somebody honest writes first; then somebody else goes on under that client id.
  const honest = await Light.open(other);
  if (!(honest instanceof Light)) throw new Error(`refused: ${honest}`);
  honest.edit();
  const stolen = honest.hand.next().update;
  await new Promise((resolve) => setTimeout(resolve, 500));
  await honest.leave();
  const ofMember = (name: string, code: number, frame: () => Uint8Array): Forged => ({
    ...{ name, code, frame, as: member },
  });
  return [
    ofMember('an unknown type', malformed.code, () => Uint8Array.of(42)),
    ofMember('a number without end', malformed.code, () => new Uint8Array(40).fill(255)),
    ofMember('a length beyond the frame', malformed.code, () => Uint8Array.of(0, 2, 255, 255, 255, 15)),
    ofMember('a state vector that lies', malformed.code, () => Uint8Array.of(0, 0, 2, 200, 1)),
    ofMember('an update of noise', malformed.code, () =>
      // As a client's first number, one far too large, so that no noise happens to be an update.
      updateFrame(Uint8Array.of(...new Uint8Array(9).fill(255), ...noise(200))),
    ),
    ofMember('awareness that is no JSON', malformed.code, () => Uint8Array.of(1, 5, 1, 7, 1, 1, 123)),
    // A struct that says it is 2^52 elements long: one client, one struct, client 7, clock 0, garbage of that length.
    ofMember('a clock that jumps', malformed.code, () =>
      updateFrame(Uint8Array.of(1, 1, 7, 0, 0, 255, 255, 255, 255, 255, 255, 255, 7, 0)),
    ),
    ofMember('a clock that leaves a gap', invalid.code, () =>
      step2Frame(Uint8Array.of(1, 1, 9, 200, 200, 200, 1, 0, 1, 0)),
    ),
    ofMember('a root of no such name', invalid.code, () =>
      updateFrame(updateOf((doc) => doc.getMap('mine').set('a', 1))),
    ),
    ofMember('a thousand roots', invalid.code, () =>
      step2Frame(
        updateOf((doc) => {
          for (let index = 0; index < 1000; index++) doc.getMap(`root${index}`).set('a', 1);
        }),
      ),
    ),
    ofMember('a value of great depth', invalid.code, () =>
      updateFrame(updateOf((doc) => doc.getMap('registers').set('edit', deep(300)))),
    ),
    ofMember('a value of another kind', invalid.code, () =>
      updateFrame(updateOf((doc) => doc.getMap('registers').set('target', 'long'))),
    ),
    ofMember('a newer version', reload.code, () =>
      updateFrame(updateOf((doc) => doc.getMap('registers').set('version', 2 ** 20))),
    ),
    ofMember("another's client id", invalid.code, () => updateFrame(stolen)),
    {
      ...ofMember('in an area that they only read', noRight.code, () =>
        updateFrame(new Hand().next().update),
      ),
      as: reader,
    },
    {
      ...ofMember('more than a board can hold', tooLarge.code, () =>
        updateFrame(new Uint8Array(LARGEST_FRAME)),
      ),
      seldom: 20,
    },
    {
      ...ofMember('twice as much', tooLarge.code, () => updateFrame(new Uint8Array(2 * LARGEST_FRAME))),
      seldom: 20,
    },
  ];
}

/** Sends the frame on a connection of its own; the code with which that is closed. */
export function send({ frame, as: { address, board, area, role, cookie } }: Forged): Promise<number> {
  return new Promise((resolve) => {
    const socket = new WebSocket(`${address}/sync/${board}/${area}?as=${role}`, {
      headers: { cookie },
      perMessageDeflate: false,
    });
    socket.on('open', () => socket.send(frame()));
    socket.on('error', () => undefined);
    socket.on('close', (code) => resolve(code));
  });
}
