import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import * as Y from 'yjs';
import { applyChanges } from '../../../lib/board/area.ts';
import { newArea } from '../../../lib/board/layout.ts';
import { areas } from '../../../lib/core/areas/board.ts';
import type { Role } from '../../../lib/core/areas/people.ts';
import { Process } from './children.ts';
import { wait } from './crowd.ts';
import { judge, load, printTable, quantile } from './figures.ts';
import type { Flood } from './flooder.ts';
import { Light, type Seat } from './light.ts';
import type { Words } from './words.ts';

const BAR_MS = 100;
/** How often the neighbour edits, and asks how the server is. */
const EVERY_MS = 50;
/** How long a server may need to serve again after a flood. */
const RECOVERING_MS = 40_000;
/** Cue words of which every other one is taken out again, so that the deleted ranges do not touch. */
const DELETED = 4000;

const kinds: readonly Flood['name'][] = [
  'upgrades to //',
  'questions for the state',
  'pongs that nobody asked for',
  'deletions that are known',
  'cursors',
  'unfinished messages of unknown sockets',
  'a hundred PDFs at once',
];

/** What the neighbour of a flood saw. */
interface Seen {
  edits: number[];
  health: number[];
  /** Megabytes, at most. */
  resident: number;
  files: number;
}

/**
 * Floods, one after the other, while somebody honest edits and asks for /health: the worst wait of both, now and at the commit that
 * lies built in `before`. Real servers with their pages, both built: `npm run build` first.
 */
export async function floods(words: Words, before?: string): Promise<void> {
  const sides = [...(before ? [before] : []), '.'];
  const missing = sides.find((folder) => !existsSync(join(folder, 'build', 'server.mjs')));
  if (missing !== undefined) throw new Error(`${missing} is not built: run npm run build there first.`);
  const seen: Map<string, Seen>[] = [];
  for (const folder of sides) seen.push(await flooded(folder, words.seconds ?? 5));
  const now = seen.at(-1)!;
  const was = before ? seen[0] : undefined;
  process.stdout.write(`the neighbour's worst wait in ms, and the server's memory and files, ${load()}\n`);
  printTable([
    [
      'flood',
      ...['edit', 'health', 'MB', 'files'].flatMap((what) => (was ? [`${what} before`, what] : [what])),
    ],
    ...[...now].map(([name, after]) => {
      const cells = (of: (one: Seen) => number) =>
        [was?.get(name), after].flatMap((one) => (one ? [Math.round(of(one))] : []));
      return [
        name,
        ...cells(({ edits }) => Math.max(...edits)),
        ...cells(({ health }) => Math.max(...health)),
        ...cells(({ resident }) => resident),
        ...cells(({ files }) => files),
      ];
    }),
  ]);
  for (const [name, { edits, health }] of now) {
    const worst = Math.max(...edits, ...health);
    judge(
      `${name}: ${worst.toFixed(0)} <= ${BAR_MS} ms (median of edits ${quantile(edits, 0.5).toFixed(1)})`,
      worst <= BAR_MS,
    );
  }
}

async function flooded(folder: string, seconds: number): Promise<Map<string, Seen>> {
  const data = await mkdtemp(join(tmpdir(), 'larkstep-bench-'));
  const port = 20_000 + Math.floor(Math.random() * 20_000);
  const server = spawn(process.execPath, ['build/server.mjs', '--json-links'], {
    cwd: folder,
    env: { ...process.env, PORT: `${port}`, HOST: '127.0.0.1', LARKSTEP_DATA: data },
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const flooder = new Process('flooder.ts');
  try {
    await flooder.next();
    const { board, links } = await linksOf(server);
    const seatOf = async (role: Role): Promise<Seat> => ({
      address: `ws://127.0.0.1:${port}`,
      ...{ board, area: 'plan', role, cookie: await cookieOf(links[role]!) },
    });
    const attacker = await seatOf('crew');
    const deleted = await deletedIn(await seatOf('couple'));
    const neighbour = await Light.open(await seatOf('instructor'));
    if (!(neighbour instanceof Light)) throw new Error(`the neighbour was refused: ${neighbour}`);
    const health = `http://127.0.0.1:${port}/health`;
    const all = new Map<string, Seen>();
    // The first sheet of a process, and its first answers, cost what is paid once.
    await watched(server, neighbour, health, wait(3000));
    for (const name of kinds) {
      const flood: Flood = { name, seat: attacker, seconds, deleted };
      const attack = name.includes('PDF')
        ? {
            ...flood,
            seat: { ...attacker, role: 'planner' as const, cookie: await cookieOf(links.planner!) },
          }
        : flood;
      all.set(name, await watched(server, neighbour, health, flooder.next(attack)));
    }
    return all;
  } finally {
    server.kill('SIGKILL');
    await flooder.kill();
    if (server.exitCode === null && server.signalCode === null) await once(server, 'exit');
    await rm(data, { recursive: true, force: true });
  }
}

async function linksOf(
  server: ChildProcess,
): Promise<{ board: string; links: Partial<Record<Role, string>> }> {
  let text = '';
  for await (const part of server.stdout!) {
    text += part;
    if (text.includes('\n')) return JSON.parse(text.split('\n', 1)[0]!);
  }
  throw new Error('the server has ended before it printed its links');
}

async function cookieOf(link: string): Promise<string> {
  const answer = await fetch(link, { headers: { accept: 'text/html' }, redirect: 'manual' });
  const cookie = answer.headers.get('set-cookie')?.split(';')[0];
  if (!cookie) throw new Error(`joining was answered by ${answer.status}`);
  return cookie;
}

/** Writes cue words into the plan and takes every other one out; what of them is then deleted. */
async function deletedIn({ address, board, area, role, cookie }: Seat): Promise<Flood['deleted']> {
  const { WebsocketProvider } = await import('y-websocket');
  const { WebSocket } = await import('ws');
  class WithCookie extends WebSocket {
    constructor(url: string | URL) {
      super(url, { headers: { cookie } });
    }
  }
  const doc = newArea(areas.plan);
  const provider = new WebsocketProvider(`${address}/sync/${board}`, area, doc, {
    params: { as: role },
    disableBc: true,
    WebSocketPolyfill: WithCookie as unknown as typeof globalThis.WebSocket,
  });
  while (!provider.synced) await wait(20);
  const ids = Array.from({ length: DELETED }, (_, index) => `flood-${index}`);
  const cue = { at: 1 as never, word: 'w' };
  applyChanges(
    doc,
    areas.plan,
    ids.map((id) => ({ collection: 'cues', id, fields: cue })),
  );
  applyChanges(
    doc,
    areas.plan,
    ids.filter((_, index) => index % 2).map((id) => ({ collection: 'cues', id, fields: null })),
  );
  await wait(3000);
  const ranges = Y.createDeleteSetFromStructStore(doc.store).clients.get(doc.clientID) ?? [];
  provider.destroy();
  return { client: doc.clientID, ranges: ranges.map(({ clock, len }) => [clock, len]) };
}

/** What the neighbour sees while this goes on, and until the server serves again. */
async function watched(
  server: ChildProcess,
  neighbour: Light,
  health: string,
  flood: Promise<unknown>,
): Promise<Seen> {
  const seen: Seen = { edits: [], health: [], resident: 0, files: 0 };
  let going = true;
  const rounds = async (one: () => Promise<number>, into: number[]) => {
    while (going) {
      into.push(await one());
      await wait(EVERY_MS);
    }
  };
  const memory = setInterval(async () => {
    seen.resident = Math.max(seen.resident, await residentOf(server.pid!));
  }, 100);
  const end = AbortSignal.timeout(120_000);
  const both = Promise.all([
    rounds(() => timed(() => acknowledgedEdit(neighbour, end)), seen.edits),
    rounds(() => timed(() => fetch(health, { signal: end }).then((answer) => answer.text())), seen.health),
  ]);
  await Promise.race([flood, wait(RECOVERING_MS)]);
  going = false;
  await both;
  clearInterval(memory);
  seen.files = await filesOf(server.pid!);
  return seen;
}

async function timed(work: () => Promise<unknown>): Promise<number> {
  const began = performance.now();
  await work();
  return performance.now() - began;
}

async function acknowledgedEdit(person: Light, end: AbortSignal): Promise<void> {
  if (person.edit() === null) throw new Error('the neighbour was sent away');
  while (person.acknowledged < person.sent && !end.aborted) await wait(1);
}

async function residentOf(pid: number): Promise<number> {
  const status = await readFile(`/proc/${pid}/status`, 'utf8').catch(() => '');
  return Number(/VmRSS:\s+(\d+)/.exec(status)?.[1] ?? 0) / 1000;
}

async function filesOf(pid: number): Promise<number> {
  const { readdir } = await import('node:fs/promises');
  return (await readdir(`/proc/${pid}/fd`)).length;
}
