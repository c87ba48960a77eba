import { messageType, syncType } from '@/lib/protocol/messages.ts';

/** How many frames that the server acknowledges went out on the present connection. */
export interface SentFrames {
  count: number;
}

/** A WebSocket class that counts those frames; the provider takes it in place of the browser's. */
export function countingSocket(): {
  Socket: typeof WebSocket;
  sent: SentFrames;
} {
  const sent: SentFrames = { count: 0 };
  class CountingSocket extends WebSocket {
    constructor(url: string | URL, protocols?: string | string[]) {
      super(url, protocols);
      sent.count = 0;
    }
    override send(data: Parameters<WebSocket['send']>[0]): void {
      if (data instanceof Uint8Array && isWriting(data)) sent.count += 1;
      super.send(data);
    }
  }
  return { Socket: CountingSocket, sent };
}

/** Both numbers are single-byte varints. */
const isWriting = (frame: Uint8Array): boolean =>
  frame[0] === messageType.sync && (frame[1] === syncType.step2 || frame[1] === syncType.update);
