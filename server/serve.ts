import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { Socket } from 'node:net';
import { provideServices, type Services } from '../lib/access/services.ts';
import { tokenIn } from '../lib/access/session.ts';
import { bad, good, type Result } from '../lib/core/result.ts';
import { openControl } from './control.ts';
import { refusalOf } from './door.ts';
import type { Environment } from './environment.ts';
import { Gate } from './gate.ts';
import { setHeaders } from './headers.ts';
import { openKept } from './keeping.ts';
import type { Log } from './log.ts';
import { Metrics } from './metrics.ts';
import { addressOf } from './origin.ts';
import { attemptsInMemory, Guesses } from './services/attempts.ts';
import { audioService } from './services/audio.ts';
import { boardService } from './services/boards.ts';
import { calendarService } from './services/calendar.ts';
import { controlWork } from './services/control.ts';
import { grantService } from './services/grants.ts';
import { boardsProbe, diskProbe, healthService, nodesProbe, storeProbe } from './services/health.ts';
import { historyService } from './services/history.ts';
import { instructorService, setUpCodeOf } from './services/instructor.ts';
import { linkService } from './services/links.ts';
import { moveService } from './services/moves.ts';
import { BUSY, paperService } from './services/papers.ts';
import { Sweeper } from './services/sweeper.ts';
import type { Audits } from './sync/audit.ts';
import { Following } from './sync/following.ts';
import { Rooms } from './sync/rooms.ts';
import { SyncServer } from './sync/server.ts';
import { refuseUpgrade, targetOf } from './upgrade.ts';

/** Renders pages and answers routes; `stop` lets go of what it holds. */
export interface Pages {
  handle(request: IncomingMessage, response: ServerResponse): Promise<void>;
  stop(): Promise<void>;
}

export interface Running {
  port: number;
  services: Services;
  /** To be typed in at the first run; null where none is taken. */
  setUpCode: string | null;
  stop(): Promise<void>;
}

/** An upload of 100 MB over a slow line. */
const LONGEST_REQUEST_MS = 30 * 60_000;
/** A request's first lines come at once; half a request holds its line no longer than this, and a look. */
const LONGEST_HEAD_MS = 10_000;
const LOOK_MS = 5000;
/** Papers that one browser is answered at the same time. */
const PAPERS_AT_ONCE = 4;
/** How long open requests may take when the server stops. */
const STOPPING_MS = 3000;

/** Settings that need not be given. */
type Further = 'proxies' | 'databaseUrl' | 'redisUrl' | 'metricsToken' | 'demo' | 'setUpCode';
export interface Options extends Omit<Environment, Further>, Partial<Pick<Environment, Further>> {
  log: Log;
  dev: boolean;
  /** Tells this program from those before and after it; null, as from sources, where nothing does. */
  program?: string | null;
  openPages(server: Server): Promise<Pages>;
  clock?: () => Date;
  /** Milliseconds of a clock that only goes on, for limits. */
  ticks?: () => number;
  /** How long an empty room stays open. */
  idleMs?: number;
  /** Whether it looks for what other nodes did, besides being told. */
  looks?: boolean;
  /** How often open areas are held against what is stored of them. */
  audits?: Audits;
  /** The store has died and cannot come back: whoever runs the process should start it anew. */
  onLost?: (sentence: string) => void;
}

/** Everything in one process on one port: store, rooms, services, pages. Several of them may share a database. */
export async function serve(options: Options): Promise<Result<Running>> {
  const { folder, log, origin, dev, proxies = 0, clock = () => new Date() } = options;
  const { ticks = () => performance.now(), metricsToken = null } = options;
  const places = { folder, databaseUrl: options.databaseUrl ?? null, redisUrl: options.redisUrl ?? null };
  const opened = await openKept(places, ({ message }) => {
    log.error('the store has died', { reason: message });
    options.onLost?.('The store has ended unexpectedly: Larkstep must be started again.');
  });
  if (!opened.ok) return opened;
  const { store, embedded, shared, nodes, incoming } = opened.value;
  const metrics = new Metrics();
  const rooms = new Rooms(
    store,
    log,
    options.idleMs,
    nodes,
    (what, label) => metrics.count(what, label),
    options.audits,
  );
  const grants = grantService(store, clock, ticks);
  const sync = new SyncServer(rooms, grants, metrics, log, { proxies, clock });
  const following = shared && new Following(shared, nodes, rooms, sync, log, options.looks);
  const audio = audioService(store, incoming);
  const sweeper = new Sweeper(store, () => audio.sweep(), log, clock);
  await sweeper.look();
  const setUpCode =
    options.setUpCode === undefined ? await setUpCodeOf(store, shared !== null) : options.setUpCode;
  const guesses = new Guesses(shared?.attempts ?? attemptsInMemory(ticks));
  const onSignOut = (session: string) => {
    sync.dropInstructor(session);
    void nodes.tell({ kind: 'signed out', session });
  };
  const boards = boardService(store, rooms, {
    clock,
    log,
    program: options.program ?? null,
    async onRemoved(board) {
      void nodes.tell({ kind: 'removed', board });
      await audio.sweep();
    },
  });
  const printing = paperService(boards, clock, log);
  const services: Services = {
    grants,
    audio,
    boards,
    papers: printing.papers,
    instructor: instructorService(store, { code: setUpCode, clock, guesses, onSignOut }),
    links: linkService(store, clock, {
      revoked(link) {
        sync.dropLink(link);
        void nodes.tell({ kind: 'revoked', link });
      },
      changed(link) {
        sync.openAnew(link);
        void nodes.tell({ kind: 'frozen', link });
      },
    }),
    history: historyService(store, rooms, clock),
    moves: moveService(store),
    calendar: calendarService(store, clock),
    settings: store.settings,
    origin,
    health: healthService({
      store: storeProbe(store, clock),
      boards: boardsProbe(rooms),
      disk: diskProbe(shared ? incoming : folder),
      ...(options.redisUrl ? { nodes: nodesProbe(nodes) } : {}),
    }),
    metrics: () => metrics.text(),
  };
  provideServices(services);

  const server = createServer({ connectionsCheckingInterval: LOOK_MS });
  server.requestTimeout = LONGEST_REQUEST_MS;
  server.headersTimeout = LONGEST_HEAD_MS;
  // All lines, because the server itself forgets those that were upgraded.
  const lines = new Set<Socket>();
  server.on('connection', (line) => {
    lines.add(line);
    line.once('close', () => lines.delete(line));
  });
  const pages = await options.openPages(server);
  const papers = new Gate(PAPERS_AT_ONCE);
  const answer = async (request: IncomingMessage, response: ServerResponse) => {
    const session = tokenIn(request.headers.cookie);
    if (session === null || !isForPaper(request)) return pages.handle(request, response);
    const leave = await papers.enter(session);
    if (leave === null) {
      response.writeHead(503, { 'Content-Type': 'application/json' });
      response.end(JSON.stringify(BUSY.problem));
      return;
    }
    try {
      await pages.handle(request, response);
    } finally {
      leave();
    }
  };
  server.on('request', (request, response) => {
    setHeaders(request, response, { dev, proxies, origin, metricsToken });
    const refused = refusalOf(request, origin);
    if (refused) {
      const { status, ...problem } = refused;
      response.writeHead(status, { 'Content-Type': 'application/json' });
      response.end(JSON.stringify(problem));
      return;
    }
    answer(request, response).catch((error: unknown) => {
      log.error('a request failed', { reason: String(error) });
      if (!response.headersSent) response.writeHead(500);
      response.end();
    });
  });
  server.on('upgrade', (request, line, head) => {
    line.on('error', () => line.destroy());
    const target = targetOf(request, origin);
    if (typeof target === 'number') refuseUpgrade(line, target);
    else if (target.pathname.startsWith('/sync/')) sync.upgrade(target, request, line, head);
    // In development the page renderer has a socket of its own, and listens for it itself.
    else if (!dev) refuseUpgrade(line, 404);
  });

  let closeControl: (() => Promise<void>) | null = null;
  const stop = async () => {
    sweeper.stop();
    following?.stop();
    await closeControl?.();
    sync.stop();
    const closed = new Promise((resolve) => server.close(resolve));
    server.closeIdleConnections();
    const timer = setTimeout(() => {
      for (const line of lines) line.destroy();
    }, STOPPING_MS);
    await rooms.stop();
    await closed;
    clearTimeout(timer);
    await printing.stop();
    await pages.stop();
    await opened.value.close();
    provideServices(undefined);
  };
  const port = await listen(server, options.port, options.host);
  if (!port.ok) {
    await stop();
    return port;
  }
  // Beside a database the command needs no help: it opens it as one more node.
  const address = addressOf(options, port.value);
  if (embedded)
    closeControl = await openControl(folder, controlWork(embedded, services.links, address, onSignOut));
  // So that the first to ask need not wait until it is read what all boards are sorted by.
  void services.boards.list(null, { from: 0, count: 0 }).catch(() => undefined);
  log.info('started', { port: port.value });
  return good({ port: port.value, services, setUpCode, stop });
}

const isForPaper = ({ url = '' }: IncomingMessage): boolean => /^\/api\/boards\/[^/]+\/papers\//.test(url);

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
