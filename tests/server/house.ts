import { mkdtemp, rm } from 'node:fs/promises';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { instructorGrant } from '../../lib/access/session.ts';
import type { Role } from '../../lib/core/areas/people.ts';
import { type Options, type Pages, type Running, serve } from '../../server/serve.ts';
import { always } from '../../server/sync/audit.ts';
import { MISMATCH } from '../../server/sync/rooms.ts';
import { routeFor } from './routes.ts';

/** The real server on a port of its own and a new folder; pages are only the routes, without their renderer. */
export interface House {
  address: string;
  folder: string;
  running: Running;
  /** Everything logged. */
  logged: string[];
  /** Lets time pass. */
  later(ms: number): void;
  /** Puts the time of day forward, or back, by hand: no time passes. */
  setClock(ms: number): void;
  /** Tries a second server on the same folder. */
  openBeside(): Promise<unknown>;
  /** Starts another on the same folder and port, once this one was stopped. */
  start(): Promise<void>;
  /** Stops it and starts another. */
  restart(): Promise<void>;
  end(): Promise<void>;
}

export async function openHouse(
  options: Partial<
    Pick<Options, 'idleMs' | 'port' | 'origin' | 'proxies' | 'metricsToken' | 'setUpCode'>
  > = {},
): Promise<House> {
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-house-'));
  const logged: string[] = [];
  let ahead = 0;
  let passed = 0;
  const log = {
    info: (event: string) => void logged.push(event),
    error: (event: string, fields: object = {}) => void logged.push(`${event} ${JSON.stringify(fields)}`),
  };
  const start = async (port: number): Promise<Running> => {
    const started = await serve({
      ...{ folder, host: '127.0.0.1', origin: null, dev: false, audits: always, log, ...options, port },
      clock: () => new Date(Date.now() + ahead + passed),
      ticks: () => performance.now() + passed,
      openPages: async () => routesOnly,
    });
    if (!started.ok) throw new Error(started.problem.sentence);
    return started.value;
  };
  const running = await start(options.port ?? 0);
  const house: House = {
    address: `http://127.0.0.1:${running.port}`,
    folder,
    running,
    logged,
    openBeside: () => start(0),
    later: (ms) => {
      passed += ms;
    },
    setClock: (ms) => {
      ahead += ms;
    },
    async start() {
      house.running = await start(running.port);
    },
    async restart() {
      await house.running.stop();
      await house.start();
    },
    async end() {
      await house.running.stop();
      await rm(folder, { recursive: true });
      const differed = logged.filter((line) => line.startsWith(MISMATCH));
      if (differed.length > 0) throw new Error(differed.join('\n'));
    },
  };
  return house;
}

/** A new board. */
export const makeBoard = (house: House): Promise<string> =>
  house.running.services.boards.make({ one: 'Ida', other: 'Tomas', date: '2031-06-14', venue: 'Mill' });

/** A link for the role, and the cookie of a browser that joined by it. */
export async function invite(house: House, board: string, role: Role, days: number | null = null) {
  const made = await house.running.services.links.make(instructorGrant(board), role, days);
  if (!made.ok) throw new Error(made.problem.sentence);
  const { id, token } = made.value;
  const response = await fetch(`${house.address}/join/${token}`, {
    headers: { accept: 'text/html' },
    redirect: 'manual',
  });
  const cookie = response.headers.get('set-cookie')?.split(';')[0];
  if (!cookie) throw new Error('joining set no cookie');
  return { id, token, cookie };
}

export const routesOnly: Pages = {
  async handle(request, response) {
    const url = new URL(request.url ?? '/', `http://${request.headers.host}`);
    const found = await routeFor(request.method ?? 'GET', url.pathname);
    if (found === null) response.writeHead(404).end();
    else await write(await found(webRequest(request, url)), response);
  },
  stop: async () => undefined,
};

function webRequest(request: IncomingMessage, url: URL): Request {
  const hasBody = request.method === 'POST' || request.method === 'PUT';
  return new Request(url, {
    method: request.method,
    headers: Object.entries(request.headers).flatMap(([name, value]): [string, string][] =>
      value === undefined ? [] : [[name, String(value)]],
    ),
    ...(hasBody ? { body: Readable.toWeb(request) as ReadableStream, duplex: 'half' } : {}),
  } as RequestInit);
}

async function write(answer: Response, response: ServerResponse): Promise<void> {
  response.writeHead(answer.status, Object.fromEntries(answer.headers));
  response.end(Buffer.from(await answer.arrayBuffer()));
}
