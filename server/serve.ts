import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { join } from 'node:path';
import { provideServices, type Services } from '../lib/access/services.ts';
import { bad, good, type Result } from '../lib/core/result.ts';
import { lockFolder } from '../lib/store/embedded/lock.ts';
import { openEmbeddedStore } from '../lib/store/embedded/open.ts';
import type { EmbeddedStore } from '../lib/store/store.ts';
import { openControl } from './control.ts';
import { refusalOf } from './door.ts';
import type { Environment } from './environment.ts';
import { setHeaders } from './headers.ts';
import type { Log } from './log.ts';
import { Metrics } from './metrics.ts';
import { addressOf } from './origin.ts';
import { audioService } from './services/audio.ts';
import { boardService } from './services/boards.ts';
import { calendarService } from './services/calendar.ts';
import { controlWork } from './services/control.ts';
import { grantService } from './services/grants.ts';
import { diskProbe, healthService, storeProbe } from './services/health.ts';
import { instructorService, newSetUpCode } from './services/instructor.ts';
import { linkService } from './services/links.ts';
import { moveService } from './services/moves.ts';
import { Sweeper } from './services/sweeper.ts';
import { Rooms } from './sync/rooms.ts';
import { SyncServer } from './sync/server.ts';

/** Renders pages and answers routes; `stop` lets go of what it holds. */
export interface Pages {
  handle(request: IncomingMessage, response: ServerResponse): Promise<void>;
  stop(): Promise<void>;
}

export interface Running {
  port: number;
  services: Services;
  /** To be typed in at the first run. */
  setUpCode: string;
  stop(): Promise<void>;
}

/** An upload of 100 MB over a slow line. */
const LONGEST_REQUEST_MS = 30 * 60_000;
/** Folder for uploads on their way. */
const INCOMING = 'incoming';
/** How long open requests may take when the server stops. */
const STOPPING_MS = 3000;

export interface Options extends Omit<Environment, 'proxies'>, Partial<Pick<Environment, 'proxies'>> {
  log: Log;
  dev: boolean;
  openPages(server: Server): Promise<Pages>;
  clock?: () => Date;
  /** How long an empty room stays open. */
  idleMs?: number;
  /** The store has died and cannot come back: whoever runs the process should start it anew. */
  onLost?: (sentence: string) => void;
}

/** Everything in one process on one port: store, rooms, services, pages. */
export async function serve(options: Options): Promise<Result<Running>> {
  const { folder, log, origin, dev, proxies = 0, clock = () => new Date() } = options;
  const opened = await openFolder(folder, ({ message }) => {
    log.error('the store has died', { reason: message });
    options.onLost?.('The store has ended unexpectedly: Larkstep must be started again.');
  });
  if (!opened.ok) return opened;
  const { lock, store } = opened.value;
  const metrics = new Metrics();
  const rooms = new Rooms(store, log, options.idleMs);
  const grants = grantService(store, clock);
  const sync = new SyncServer(rooms, grants, metrics, log, { origin, clock });
  const audio = audioService(store, join(folder, INCOMING));
  const sweeper = new Sweeper(store, () => audio.sweep(), log, clock);
  await sweeper.look();
  const setUpCode = newSetUpCode();
  const services: Services = {
    grants,
    audio,
    instructor: instructorService(store, setUpCode, clock, (session) => sync.dropInstructor(session)),
    boards: boardService(store, rooms, clock, () => audio.sweep()),
    links: linkService(store, clock, (link) => sync.dropLink(link)),
    moves: moveService(store),
    calendar: calendarService(store, clock),
    settings: store.settings,
    origin,
    health: healthService({ store: storeProbe(store, clock), disk: diskProbe(folder) }),
    metrics: () => metrics.text(),
  };
  provideServices(services);

  const server = createServer();
  server.requestTimeout = LONGEST_REQUEST_MS;
  const pages = await options.openPages(server);
  server.on('request', (request, response) => {
    setHeaders(request, response, { dev, proxies });
    const refused = refusalOf(request, origin);
    if (refused) {
      const { status, ...problem } = refused;
      response.writeHead(status, { 'Content-Type': 'application/json' });
      response.end(JSON.stringify(problem));
      return;
    }
    pages.handle(request, response).catch((error: unknown) => {
      log.error('a request failed', { reason: String(error) });
      if (!response.headersSent) response.writeHead(500);
      response.end();
    });
  });
  server.on('upgrade', (request, socket, head) => {
    // In development the page renderer has a socket of its own, and listens for it itself.
    if (!sync.upgrade(request, socket, head) && !dev) socket.destroy();
  });

  let closeControl: (() => Promise<void>) | null = null;
  const stop = async () => {
    sweeper.stop();
    await closeControl?.();
    sync.stop();
    const closed = new Promise((resolve) => server.close(resolve));
    server.closeIdleConnections();
    const timer = setTimeout(() => server.closeAllConnections(), STOPPING_MS);
    await rooms.stop();
    await closed;
    clearTimeout(timer);
    await pages.stop();
    await store.close();
    lock.release();
    provideServices(undefined);
  };
  const port = await listen(server, options.port, options.host);
  if (!port.ok) {
    await stop();
    return port;
  }
  closeControl = await openControl(
    folder,
    controlWork(store, services.links, addressOf(options, port.value)),
  );
  log.info('started', { port: port.value });
  return good({ port: port.value, services, setUpCode, stop });
}

/** The folder, held for this server, and the store in it. */
async function openFolder(
  folder: string,
  onLost: (error: Error) => void,
): Promise<Result<{ lock: { release(): void }; store: EmbeddedStore }>> {
  let lock: ReturnType<typeof lockFolder> = null;
  try {
    lock = lockFolder(folder);
    if (!lock)
      return bad(
        'folder taken',
        `Another Larkstep server uses the folder ${folder}: stop it, or set LARKSTEP_DATA.`,
      );
    return good({ lock, store: await openEmbeddedStore(folder, onLost) });
  } catch (error) {
    lock?.release();
    const { code } = error as NodeJS.ErrnoException;
    return code === 'SQLITE_NOTADB' || code === 'SQLITE_CORRUPT'
      ? bad(
          'store damaged',
          `The store in ${folder} is damaged (${code}): restore a backup with larkstep restore.`,
        )
      : bad(
          'folder not usable',
          `The folder ${folder} cannot be used (${code || 'no file can be made in it'}): make room in it and let it be written, or set LARKSTEP_DATA.`,
        );
  }
}

/** The port it listens on. */
function listen(server: Server, port: number, host: string): Promise<Result<number>> {
  return new Promise((resolve) => {
    server.once('error', ({ code }: NodeJS.ErrnoException) => {
      resolve(
        code === 'EADDRINUSE'
          ? bad('port taken', `Port ${port} is taken: stop what uses it, or set PORT to another one.`)
          : bad('not listening', `It cannot listen on port ${port} of ${host} (${code}): set PORT or HOST.`),
      );
    });
    server.listen(port, host, () => {
      const address = server.address();
      resolve(good(typeof address === 'object' && address !== null ? address.port : port));
    });
  });
}
