import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, readFileSync } from 'node:fs';
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import * as Y from 'yjs';
import { applyChanges } from '../../../lib/board/area.ts';
import { newArea } from '../../../lib/board/layout.ts';
import { areas } from '../../../lib/core/areas/board.ts';
import type { Role } from '../../../lib/core/areas/people.ts';
import { recordTime } from '../../../lib/core/units.ts';
import { Process } from './children.ts';
import { wait } from './crowd.ts';
import { judge, load, printTable, quantile } from './figures.ts';
import type { Flood } from './flooder.ts';
import { Light, type Seat } from './light.ts';
import type { Words } from './words.ts';

const BAR_MS = 100;
/** How often the neighbour edits, and asks how the server is. */
const EVERY_MS = 50;
/** The longest wait that is waited for; then the server is started anew. */
const RECOVERING_MS = 20_000;
/** Cue words that are moved once each, so that the deleted ranges do not touch; and how many in one change. */
const DELETED = 600;
const AT_ONCE = 100;

const kinds: readonly Flood['name'][] = [
  'upgrades to //',
  'questions for the state',
  'pongs that nobody asked for',
  'deletions that are known',
  'cursors',
  'unfinished messages of unknown sockets',
  'a hundred PDFs at once',
];

/** What the neighbour of a flood saw: each wait in ms, and in `own` without what both sides waited for a processor meanwhile. */
interface Seen {
  edits: number[];
  health: number[];
  own: number[];
  /** Megabytes, at most. */
  resident: number;
  files: number;
  /** It had to be started anew: its wait was cut off. */
  isLost: boolean;
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
  process.stdout.write(
    `the neighbour's worst wait in ms (own: the worst of both, without what the two waited for a processor), the server's memory and files, ${load()}\n`,
  );
  printTable([
    [
      'flood',
      ...['edit', 'health', 'own', 'MB', 'files'].flatMap((what) =>
        was ? [`${what} before`, what] : [what],
      ),
    ],
    ...[...now].map(([name, after]) => {
      const cells = (of: (one: Seen) => number) =>
        [was?.get(name), after].flatMap((one) => (one ? [Math.round(of(one))] : []));
      return [
        name,
        ...cells(({ edits }) => Math.max(...edits)),
        ...cells(({ health }) => Math.max(...health)),
        ...cells(({ own }) => Math.max(...own)),
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
  let site = await openSite(folder, data);
  try {
    const deleted = await deletedIn(await site.seatOf('couple'));
    // The first sheet of a process, and its first answers, cost what is paid once.
    await watched(site, wait(3000));
    const all = new Map<string, Seen>();
    for (const name of kinds) {
      const seat = await site.seatOf(name.includes('PDF') ? 'planner' : 'crew');
      const flood: Flood = { name, seat, seconds, deleted };
      const seen = await watched(site, site.flooder.next(flood));
      all.set(name, seen);
      if (!seen.isLost) continue;
      await site.close();
      site = await openSite(folder, data);
    }
    return all;
  } finally {
    await site.close();
    await rm(data, { recursive: true, force: true });
  }
}

/** A real server, whoever floods it, and the neighbour. */
interface Site {
  pid: number;
  health: string;
  flooder: Process;
  neighbour: Light;
  seatOf(role: Role): Promise<Seat>;
  close(): Promise<void>;
}

async function openSite(folder: string, data: string): Promise<Site> {
  const port = 20_000 + Math.floor(Math.random() * 20_000);
  const server = spawn(process.execPath, ['build/server.mjs', '--json-links'], {
    cwd: folder,
    env: { ...process.env, PORT: `${port}`, HOST: '127.0.0.1', LARKSTEP_DATA: data },
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const flooder = new Process('flooder.ts');
  const close = async () => {
    const ended = once(server, 'exit');
    if (server.kill('SIGKILL')) await ended;
    await flooder.kill();
  };
  try {
    await flooder.next();
    const { board, links } = await linksOf(server);
    const seatOf = async (role: Role): Promise<Seat> => ({
      address: `ws://127.0.0.1:${port}`,
      ...{ board, area: 'plan', role, cookie: await cookieOf(links[role]!) },
    });
    const neighbour = await Light.open(await seatOf('instructor'));
    if (!(neighbour instanceof Light)) throw new Error(`the neighbour was refused: ${neighbour}`);
    return { pid: server.pid!, health: `http://127.0.0.1:${port}/health`, flooder, neighbour, seatOf, close };
  } catch (error) {
    await close();
    throw error;
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

/** Writes cue words into the plan and moves them; where they were is then deleted. */
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
  for (let from = 0; from < DELETED; from += AT_ONCE) {
    const ids = Array.from({ length: AT_ONCE }, (_, index) => `flood-${from + index}`);
    for (const at of [1, 2])
      applyChanges(
        doc,
        areas.plan,
        ids.map((id) => ({
          collection: 'cues',
          id,
          fields: at === 1 ? { at: recordTime(at), word: 'w' } : { at: recordTime(at) },
        })),
      );
    await wait(300);
  }
  await wait(3000);
  const ranges = Y.createDeleteSetFromStructStore(doc.store).clients.get(doc.clientID) ?? [];
  provider.destroy();
  return { client: doc.clientID, ranges: ranges.map(({ clock, len }) => [clock, len]) };
}

/** What the neighbour sees while this goes on, and until the server serves again. */
async function watched({ pid, health, neighbour }: Site, flood: Promise<unknown>): Promise<Seen> {
  const seen: Seen = { edits: [], health: [], own: [], resident: 0, files: 0, isLost: false };
  let going = true;
  const rounds = async (one: (end: AbortSignal) => Promise<boolean>, into: number[]) => {
    while (going) {
      const [began, starved] = [performance.now(), starvedOf(pid)];
      if (!(await one(AbortSignal.timeout(RECOVERING_MS)))) seen.isLost = true;
      const waited = performance.now() - began;
      into.push(waited);
      seen.own.push(Math.max(0, waited - (starvedOf(pid) - starved)));
      if (seen.isLost) return;
      await wait(EVERY_MS);
    }
  };
  const memory = setInterval(async () => {
    seen.resident = Math.max(seen.resident, await residentOf(pid));
  }, 100);
  const both = Promise.all([
    rounds((end) => acknowledgedEdit(neighbour, end), seen.edits),
    rounds((end) => isHealthTold(health, end), seen.health),
  ]);
  await Promise.race([flood, both]);
  going = false;
  await both;
  clearInterval(memory);
  seen.files = await filesOf(pid);
  return seen;
}

/** False when it is not acknowledged in time, or the neighbour was sent away. */
async function acknowledgedEdit(person: Light, end: AbortSignal): Promise<boolean> {
  if (person.edit() === null) return false;
  while (person.acknowledged < person.sent && !end.aborted) await wait(1);
  return !end.aborted;
}

const isHealthTold = (health: string, signal: AbortSignal): Promise<boolean> =>
  fetch(health, { signal }).then(
    (answer) => answer.text().then(() => true),
    () => false,
  );

/**
 * Milliseconds that the first thread of the server, and that of this process, were ready and had no processor (Linux,
 * Documentation/scheduler/sched-stats).
 */
function starvedOf(server: number): number {
  const of = (pid: number) => readFileSync(`/proc/${pid}/task/${pid}/schedstat`, 'latin1').split(' ')[1];
  return (Number(of(server)) + Number(of(process.pid))) / 1e6;
}

async function residentOf(pid: number): Promise<number> {
  const status = await readFile(`/proc/${pid}/status`, 'utf8').catch(() => '');
  return Number(/VmRSS:\s+(\d+)/.exec(status)?.[1] ?? 0) / 1000;
}

async function filesOf(pid: number): Promise<number> {
  return (await readdir(`/proc/${pid}/fd`)).length;
}
