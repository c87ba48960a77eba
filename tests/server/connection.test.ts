import { EventEmitter } from 'node:events';
import { expect, test } from 'vitest';
import type { WebSocket } from 'ws';
import { instructorGrant } from '../../lib/access/session.ts';
import { newArea } from '../../lib/board/layout.ts';
import { areas } from '../../lib/core/areas/board.ts';
import { closings } from '../../lib/protocol/close.ts';
import type { Store } from '../../lib/store/store.ts';
import { Metrics } from '../../server/metrics.ts';
import { Budget, Turns } from '../../server/sync/budget.ts';
import { Connection } from '../../server/sync/connection.ts';
import { Room } from '../../server/sync/room.ts';

/** The socket as a connection uses it, without a network. */
class Line extends EventEmitter {
  bufferedAmount = 0;
  sent = 0;
  pings = 0;
  code: number | null = null;
  terminated = false;
  send(): void {
    this.sent += 1;
  }
  ping(): void {
    this.pings += 1;
  }
  close(code: number): void {
    this.code = code;
  }
  terminate(): void {
    this.terminated = true;
    this.emit('close');
  }
  pause(): void {}
  resume(): void {}
}

function connect() {
  const line = new Line();
  const stored = { updates: [], head: 0, loose: 0, claims: [] };
  const room = new Room({} as Store, 'b', 'plan', stored, newArea(areas.plan), () => undefined);
  let ended = 0;
  const options = {
    budget: new Budget(new Turns()),
    acknowledges: true,
    onEnd: () => {
      ended += 1;
    },
  };
  const socket = line as unknown as WebSocket;
  const metrics = new Metrics();
  const connection = new Connection(socket, room, instructorGrant('b'), '', metrics, options);
  return { line, room, connection, metrics, ended: () => ended };
}

test('one who does not read is let go before the queue grows without bound', () => {
  const { line, room, connection, ended } = connect();
  connection.send(Uint8Array.of(0));
  line.bufferedAmount = 64 * 1024 * 1024;
  connection.send(Uint8Array.of(0));
  expect([line.sent, line.code, line.terminated]).toEqual([1, closings.slow.code, true]);
  expect([room.isEmpty, ended()]).toEqual([true, 1]);
});

test.each([
  ['WS_ERR_UNSUPPORTED_MESSAGE_LENGTH', 'tooLarge'],
  ['WS_ERR_INVALID_OPCODE', 'malformed'],
])('what the socket library finds is counted as what it is: %s', (code, why) => {
  const { line, metrics, ended } = connect();
  line.emit('error', Object.assign(new Error('no good'), { code }));
  expect(ended()).toBe(1);
  expect(metrics.text()).toContain(`larkstep_closed_total{why="${why}"} 1`);
});

test('one who does not answer a ping is gone at the next', () => {
  const { line, room, connection, ended } = connect();
  connection.ping();
  line.emit('pong');
  connection.ping();
  expect([line.pings, line.terminated]).toEqual([2, false]);
  connection.ping();
  expect([line.terminated, room.isEmpty, ended()]).toEqual([true, true, 1]);
});

test('nothing is sent to or taken from a closed line, and it ends once', () => {
  const { line, room, connection, ended } = connect();
  connection.close('revoked');
  connection.close('stopping');
  connection.send(Uint8Array.of(0));
  line.emit('message', Buffer.from([0, 0, 1, 0]));
  line.emit('close');
  expect([line.code, line.sent, room.isEmpty, ended()]).toEqual([closings.revoked.code, 0, true, 1]);
});
