import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { WebSocket } from 'ws';
import { syncPath } from '../../../lib/protocol/messages.ts';
import { step1Frame, step2Frame, updateFrame } from '../../../server/sync/frames.ts';
import { startOurs } from './children.ts';
import { wait } from './crowd.ts';
import { judge, load } from './figures.ts';
import { Hand } from './hand.ts';
import { callsOf, framesIn } from './strace.ts';
import type { Words } from './words.ts';

const NOTHING = Uint8Array.of(0, 0);

/**
 * Whether a sync of the disk stands before every acknowledgement: the system calls of our server are written down by strace
 * while people write. A kill cannot show this, because what a dead process has written the system still holds.
 */
export async function synced(words: Words): Promise<void> {
  const people = words.people ?? 4;
  const count = words.count ?? 50;
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-bench-'));
  const ours = await startOurs({ folder, boards: 1, roles: ['couple'] });
  const trace = join(folder, 'calls');
  const strace = await attach(ours.pid, trace);
  const { id, cookies } = ours.boards[0]!;
  const address = `${ours.address}${syncPath(id)}/plan?as=couple&ack=1`;
  await Promise.all(Array.from({ length: people }, () => write(address, cookies.couple!, count)));
  const ended = once(strace, 'exit');
  strace.kill('SIGINT');
  await ended;
  await ours.kill();
  const found = orderOf(await readFile(trace, 'latin1'));
  await rm(folder, { recursive: true });
  process.stdout.write(
    `${people} people x ${count} edits: ${found.arrived} updates arrived, ${found.acknowledged} acknowledged, ${found.syncs} syncs, ${load()}\n`,
  );
  judge(
    `an fdatasync or fsync began after the update had arrived and returned before it was acknowledged: ${found.between} of ${people * count}`,
    found.between === people * count && found.arrived === people * count,
  );
}

async function attach(pid: number, file: string): Promise<ChildProcess> {
  const calls = 'fdatasync,fsync,read,readv,recvfrom,recvmsg,write,writev,sendto,sendmsg';
  const options = ['-f', '-xx', '-s', '100000', '-e', `trace=${calls}`, '-o', file, '-p', `${pid}`];
  const strace = spawn('strace', options, { stdio: ['ignore', 'ignore', 'pipe'] });
  for await (const line of strace.stderr) if (String(line).includes('attached')) break;
  return strace;
}

/** Writes one edit after another, each when the one before is acknowledged. Unmasked, so that a trace can be read. */
async function write(address: string, cookie: string, count: number): Promise<void> {
  const hand = new Hand();
  const socket = new WebSocket(address, {
    headers: { cookie },
    perMessageDeflate: false,
    generateMask: (mask) => void mask.fill(0),
  });
  await once(socket, 'open');
  socket.send(step1Frame(Uint8Array.of(0)));
  await new Promise<void>((resolve) => {
    socket.on('message', (data) => {
      const frame = data as Uint8Array;
      if (frame[0] === 0 && frame[1] === 0) socket.send(step2Frame(NOTHING));
      if (frame[0] !== 100) return;
      if (frame[1]! + 128 * ((frame[2] ?? 1) - 1) > count) resolve();
      else socket.send(updateFrame(hand.next().update));
    });
  });
  socket.close();
  await wait(50);
}

interface Order {
  arrived: number;
  acknowledged: number;
  syncs: number;
  between: number;
}

/** In one trace: where updates come in, where syncs begin and return, and where acknowledgements go out, by socket. */
function orderOf(trace: string): Order {
  const order: Order = { arrived: 0, acknowledged: 0, syncs: 0, between: 0 };
  /** For each socket the numbers of the lines where its frames, by number, had arrived. */
  const arrived = new Map<number, number[]>();
  /** For each line of a sync's return, the line where it began. */
  const syncs: { began: number; returned: number }[] = [];
  for (const { name, file, began, returned, result, bytes } of callsOf(trace)) {
    if (name === 'fdatasync' || name === 'fsync') {
      if (result === 0) syncs.push({ began, returned });
    } else if (/^(read|recv)/.test(name)) {
      const frames = arrived.get(file) ?? [];
      for (const payload of framesIn(bytes))
        if (payload[0] === 0 && (payload[1] === 1 || payload[1] === 2)) {
          frames.push(returned);
          if (payload[1] === 2) order.arrived += 1;
        }
      arrived.set(file, frames);
    } else
      for (const payload of framesIn(bytes)) {
        if (payload[0] !== 100) continue;
        const number = payload[1]! + 128 * ((payload[2] ?? 1) - 1);
        const since = arrived.get(file)?.[number - 1];
        // The first frame is the answer to the greeting, which is empty.
        if (number === 1 || since === undefined) continue;
        order.acknowledged += 1;
        if (syncs.some((sync) => sync.began > since && sync.returned < began)) order.between += 1;
      }
  }
  order.syncs = syncs.length;
  return order;
}
