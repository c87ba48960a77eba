import { once } from 'node:events';
import { connect, type Socket } from 'node:net';
import { setPriority } from 'node:os';
import { WebSocket } from 'ws';
import { awarenessFrame, step1Frame, updateFrame } from '../../../server/sync/frames.ts';
import type { Seat } from './light.ts';

/** What is flooded with, for so long: as somebody who may only read, or without a link. */
export interface Flood {
  name: keyof typeof floods;
  seat: Seat;
  seconds: number;
  /** Ranges of a client that the document holds as deleted. */
  deleted: { client: number; ranges: [clock: number, length: number][] };
}

/** It gives way to the others: a real one has a computer of its own. */
setPriority(10);
const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
const until = (flood: Flood) => performance.now() + flood.seconds * 1000;
const open: (WebSocket | Socket)[] = [];

async function join({ address, board, area, role, cookie }: Seat): Promise<WebSocket> {
  const socket = new WebSocket(`${address}/sync/${board}/${area}?as=${role}`, { headers: { cookie } });
  socket.on('error', () => undefined);
  open.push(socket);
  await Promise.race([once(socket, 'open'), once(socket, 'close'), wait(5000)]).catch(() => undefined);
  return socket;
}

function line({ address }: Seat): Socket {
  const { port, hostname } = new URL(address);
  const socket = connect(Number(port), hostname);
  socket.on('error', () => undefined);
  socket.resume();
  open.push(socket);
  return socket;
}

/** Frames as a client masks them (RFC 6455, section 5.3), with a mask of zeros; of a payload under 126 bytes. */
const masked = (opcode: number, payload: Uint8Array): Buffer =>
  Buffer.concat([Buffer.of(0x80 | opcode, 0x80 | payload.length, 0, 0, 0, 0), payload]);

const upgrade = ({ board, area, role, address }: Seat, cookie: string): string =>
  [
    `GET /sync/${board}/${area}?as=${role} HTTP/1.1`,
    `Host: ${new URL(address).host}`,
    'Connection: Upgrade',
    'Upgrade: websocket',
    'Sec-WebSocket-Version: 13',
    'Sec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==',
    ...(cookie ? [`Cookie: ${cookie}`] : []),
    '\r\n',
  ].join('\r\n');

/** The same 60 KB of small frames, again and again, by six lines of one link. */
async function chunks(flood: Flood, frame: Buffer): Promise<void> {
  const chunk = Buffer.concat(Array.from({ length: Math.ceil(60_000 / frame.length) }, () => frame));
  const lines = Array.from({ length: 6 }, () => line(flood.seat));
  for (const one of lines) one.write(upgrade(flood.seat, flood.seat.cookie));
  await wait(300);
  for (const end = until(flood); performance.now() < end; await wait(100))
    for (const one of lines) if (one.writable && one.writableLength < chunk.length) one.write(chunk);
}

async function repeated(
  flood: Flood,
  count: number,
  each: (index: number) => Promise<unknown>,
): Promise<void> {
  const end = until(flood);
  for (let done = 0; done < count && performance.now() < end; done += 50)
    await Promise.all(Array.from({ length: 50 }, (_, index) => each(done + index)));
}

const floods = {
  'upgrades to //': (flood: Flood) =>
    repeated(flood, 2000, async () => {
      const one = line(flood.seat);
      one.write('GET // HTTP/1.1\r\nHost: localhost\r\nConnection: Upgrade\r\nUpgrade: websocket\r\n\r\n');
      await Promise.race([once(one, 'close'), wait(50)]);
    }),
  'questions for the state': (flood: Flood) => chunks(flood, masked(2, step1Frame(Uint8Array.of(0)))),
  'pongs that nobody asked for': (flood: Flood) => chunks(flood, masked(10, new Uint8Array(0))),
  async 'deletions that are known'(flood: Flood) {
    const { client, ranges } = flood.deleted;
    const bytes: number[] = [];
    const write = (number: number) => {
      let rest = number;
      for (; rest > 127; rest = Math.floor(rest / 128)) bytes.push((rest % 128) | 128);
      bytes.push(rest);
    };
    // From the last, which is found last.
    const last = ranges.slice(-200);
    const times = Math.ceil(2e6 / (last.length * 4));
    for (const number of [0, 1, client, times * last.length]) write(number);
    for (let time = 0; time < times; time++)
      for (const [clock, length] of last) [clock, length].forEach(write);
    const frame = updateFrame(Uint8Array.from(bytes));
    for (const end = until(flood); performance.now() < end; await wait(200)) {
      const socket = await join(flood.seat);
      if (socket.readyState === WebSocket.OPEN) socket.send(frame);
    }
  },
  async cursors(flood: Flood) {
    const sockets = await Promise.all(Array.from({ length: 150 }, () => join(flood.seat)));
    const json = JSON.stringify({ user: { name: 'Crew', color: '#aa0000' }, at: 'x'.repeat(200) });
    let clock = 0;
    for (const end = until(flood); performance.now() < end; await wait(50)) {
      clock += 1;
      sockets.forEach((socket, index) => {
        if (socket.readyState === WebSocket.OPEN)
          socket.send(awarenessFrame([{ client: 1000 + index, clock, json }]));
      });
    }
  },
  async 'unfinished messages of unknown sockets'(flood: Flood) {
    const part = Buffer.alloc(7_900_000);
    const header = Buffer.from([0x82, 0xff, 0, 0, 0, 0, 0, 0x7a, 0x12, 0, 0, 0, 0, 0]);
    const lines = Array.from({ length: 150 }, () => line(flood.seat));
    for (const one of lines) one.write(upgrade(flood.seat, ''));
    await wait(300);
    for (const one of lines) {
      one.write(header);
      one.write(part);
    }
    await wait(flood.seconds * 1000);
  },
  async 'a hundred PDFs at once'({ seat }: Flood) {
    const http = seat.address.replace('ws:', 'http:');
    const path = `/api/boards/${seat.board}/papers/planner.pdf?as=${seat.role}`;
    const one = () =>
      fetch(http + path, { headers: { cookie: seat.cookie } }).then((answer) => answer.arrayBuffer());
    await Promise.allSettled(Array.from({ length: 100 }, one));
  },
};

process.on('message', async (flood: Flood) => {
  await floods[flood.name](flood);
  for (const one of open.splice(0)) one instanceof WebSocket ? one.terminate() : one.destroy();
  process.send!('done');
});
process.send!('ready');
