import * as decoding from 'lib0/decoding';
import { WebSocket } from 'ws';
import { WebsocketProvider } from 'y-websocket';
import { applyChanges, readArea } from '../../lib/board/area.ts';
import { newArea } from '../../lib/board/layout.ts';
import type { AreaData } from '../../lib/core/areas/area.ts';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';
import type { Change } from '../../lib/core/areas/change.ts';
import { messageType, syncPath, syncType } from '../../lib/protocol/messages.ts';
import type { House } from './house.ts';

interface As {
  board: string;
  role: string;
  cookie: string;
}

/** A stock y-websocket client in one area, as somebody. */
export function guest<A extends AreaName>(
  house: Pick<House, 'address'>,
  as: As,
  area: A,
  doc = newArea(areas[area]),
) {
  let acknowledged = 0;
  /** Update and step-2 frames of the present connection. */
  let sent = 0;
  class WithCookie extends WebSocket {
    constructor(address: string | URL) {
      const origin = `http://${new URL(address).host}`;
      super(address, { headers: { cookie: as.cookie, origin } });
      acknowledged = 0;
      sent = 0;
    }
    override send(frame: Uint8Array): void {
      if (frame[0] === messageType.sync && frame[1] !== syncType.step1) sent += 1;
      super.send(frame);
    }
  }
  const shape: (typeof areas)[A] = areas[area];
  const provider = new WebsocketProvider(
    house.address.replace('http', 'ws') + syncPath(as.board),
    area,
    doc,
    {
      params: { as: as.role, ack: '1' },
      disableBc: true,
      WebSocketPolyfill: WithCookie as unknown as typeof globalThis.WebSocket,
      maxBackoffTime: 100,
    },
  );
  const onAcknowledged = new Set<() => void>();
  provider.messageHandlers[messageType.acknowledged] = (_encoder, decoder) => {
    acknowledged = decoding.readVarUint(decoder);
    for (const look of onAcknowledged) look();
  };
  const closed = new Promise<number>((resolve) => {
    provider.on('closed', ({ code }) => resolve(code));
  });
  return {
    doc,
    provider,
    /** The code with which the server closed for good. */
    closed,
    synced: () =>
      until(
        (look) => provider.on('sync', look),
        () => provider.synced,
      ),
    /** Resolves when the server has said that this many of this connection's frames are durable. */
    acknowledged: (number: number) =>
      until(
        (look) => onAcknowledged.add(look),
        () => acknowledged >= number,
      ),
    lastAcknowledged: () => acknowledged,
    /** Resolves when all that was written is durable, on this connection or a later one. */
    saved: () =>
      until(
        (look) => onAcknowledged.add(look),
        () => provider.wsconnected && sent > 0 && acknowledged === sent,
      ),
    read: (): AreaData<(typeof areas)[A]> => readArea(doc, shape),
    /** Resolves when the document is as wanted. */
    sees: (wanted: (data: AreaData<(typeof areas)[A]>) => boolean) =>
      until(
        (look) => doc.on('update', look),
        () => wanted(readArea(doc, shape)),
      ),
    write: (...changes: Change<(typeof areas)[A]>[]) => applyChanges(doc, shape, changes),
    leave: () => {
      provider.destroy();
      doc.destroy();
    },
  };
}

/** Waits for events, never for time. */
export function until(listen: (look: () => void) => unknown, holds: () => boolean): Promise<void> {
  return new Promise((resolve) => {
    const look = () => {
      if (holds()) resolve();
    };
    listen(look);
    look();
  });
}
