import { WebSocket } from 'ws';
import { messageType } from '../../../lib/protocol/messages.ts';

/** How long a frame may stay without an answer. */
const PATIENCE_MS = 10_000;

/**
 * Sends frames over a socket of its own, each once the one before was acknowledged. Resolves with how many were, when the server
 * has acknowledged all or closed; rejects when it does neither.
 */
export function sendRaw(
  {
    port,
    board,
    area,
    role,
    cookie,
  }: Record<'board' | 'area' | 'role' | 'cookie', string> & { port: number },
  frames: readonly Uint8Array[],
): Promise<{ acknowledged: number; code: number | null }> {
  return new Promise((resolve, reject) => {
    const socket = new WebSocket(`ws://127.0.0.1:${port}/sync/${board}/${area}?as=${role}&ack=1`, {
      headers: { cookie },
      perMessageDeflate: false,
    });
    let acknowledged = 0;
    const timer = setTimeout(() => {
      socket.terminate();
      reject(new Error(`no answer to frame ${acknowledged + 1} of ${frames.length}`));
    }, PATIENCE_MS);
    const end = (code: number | null) => {
      clearTimeout(timer);
      socket.terminate();
      resolve({ acknowledged, code });
    };
    socket.on('open', () => socket.send(frames[0]!));
    socket.on('message', (data) => {
      const frame = data as Uint8Array;
      if (frame[0] !== messageType.acknowledged) return;
      acknowledged = frame[1]!;
      if (acknowledged === frames.length) end(null);
      else socket.send(frames[acknowledged]!);
    });
    socket.on('error', () => undefined);
    socket.on('close', end);
  });
}
