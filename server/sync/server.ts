import type { IncomingMessage } from 'node:http';
import type { Duplex } from 'node:stream';
import { WebSocket, WebSocketServer } from 'ws';
import { hashOf } from '../../lib/access/links.ts';
import type { Services } from '../../lib/access/services.ts';
import { tokenIn } from '../../lib/access/session.ts';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';
import { role } from '../../lib/core/areas/people.ts';
import { may } from '../../lib/core/areas/rights.ts';
import { type Closing, closings } from '../../lib/protocol/close.ts';
import { LARGEST_FRAME } from '../../lib/protocol/messages.ts';
import type { Measure } from '../../lib/store/store.ts';
import { isOurHost } from '../door.ts';
import type { Log } from '../log.ts';
import type { Metrics } from '../metrics.ts';
import { isOurOwn } from '../origin.ts';
import { Vessels } from '../vessels.ts';
import { CLOSING_MS, Connection } from './connection.ts';
import type { Rooms } from './rooms.ts';

/** How often grants are looked at for their end, and after how many looks a connection is pinged: at each look another share of them. */
const LOOK_MS = 500;
const LOOKS_A_PING = 30;

/**
 * Refusals of one membership after which its next connections come one by one, and the time that each of the two takes up: whoever
 * sends again and again what is refused costs the other rooms no more than this.
 */
const REFUSALS: Measure = { atOnce: 20, secondsEach: 0.01 };
/** What a page sent was refused: it is spoilt, forged or made by another version. */
const refusing: readonly (Closing | null)[] = [
  'malformed',
  'noRight',
  'outdated',
  'tooLarge',
  'invalid',
  'reload',
];

/** The library's code for a frame whose header says more than `maxPayload` (RFC 6455, section 7.4.1). */
const TOO_BIG = 1009;

/** A socket that says "too large" in the code of our own: after the standard's one a stock client would send it again and again. */
class Socket extends WebSocket {
  override close(code?: number, reason?: string | Buffer): void {
    super.close(code === TOO_BIG ? closings.tooLarge.code : code, reason);
  }
}

/** Admits sockets to rooms, and keeps the list of those that are in. */
export class SyncServer {
  private readonly sockets = new WebSocketServer({
    noServer: true,
    WebSocket: Socket,
    maxPayload: LARGEST_FRAME,
    perMessageDeflate: false,
  });
  /** Each with the look, of LOOKS_A_PING, at which it is pinged: thousands at once would keep everybody waiting. */
  private readonly connections = new Map<Connection, number>();
  private readonly refusals = new Vessels(REFUSALS, () => performance.now());
  private readonly ticker: NodeJS.Timeout;
  private looks = 0;
  private admitted = 0;
  private stopping = false;

  constructor(
    private readonly rooms: Rooms,
    private readonly grants: Services['grants'],
    private readonly metrics: Metrics,
    private readonly log: Log,
    private readonly options: { origin: string | null; clock(): Date },
  ) {
    metrics.gauge('connections', () => this.connections.size);
    metrics.gauge('rooms', () => rooms.count);
    this.ticker = setInterval(() => this.look(), LOOK_MS).unref();
  }

  /** Whether the path is one of ours; then the socket is taken care of. */
  upgrade(request: IncomingMessage, socket: Duplex, head: Buffer): boolean {
    const url = new URL(request.url ?? '/', 'http://localhost');
    if (!url.pathname.startsWith('/sync/')) return false;
    socket.on('error', () => socket.destroy());
    const { origin } = this.options;
    if (this.stopping || !isOurHost(request, origin) || !isOurOwn(request, origin)) {
      socket.end(
        `HTTP/1.1 ${this.stopping ? '503 Service Unavailable' : '403 Forbidden'}\r\nConnection: close\r\n\r\n`,
      );
      return true;
    }
    this.sockets.handleUpgrade(request, socket, head, (opened) => {
      // Such as a frame beyond the limit. The other end is given time to read why; what it still sends is read no more.
      opened.on('error', () => {
        setImmediate(() => opened.pause());
        setTimeout(() => opened.terminate(), CLOSING_MS).unref();
      });
      // Nothing is read before it is known who speaks and the room is loaded.
      opened.pause();
      this.admit(opened, url, tokenIn(request.headers.cookie)).then(
        (refused) => refused && turnAway(opened, refused),
        (error: unknown) => {
          this.log.error('a socket was not admitted', { reason: String(error) });
          turnAway(opened, 'failed');
        },
      );
    });
    return true;
  }

  /** Closes at once what came by a link that was revoked. */
  dropLink(link: string): void {
    this.drop('revoked', ({ grant }) => grant.link === link);
  }

  /** The instructor has signed out there: what came by links stays. */
  dropInstructor(session: string): void {
    this.drop('ended', (connection) => connection.session === session && connection.grant.link === null);
  }

  /** What the open connections rest on. */
  standing(): { links: string[]; frozen: string[]; sessions: string[] } {
    const links = new Set<string>();
    const sessions = new Set<string>();
    for (const { grant, session } of this.connections.keys())
      if (grant.link === null) sessions.add(session);
      else links.add(grant.link);
    return { links: [...links], frozen: [], sessions: [...sessions] };
  }

  stop(): void {
    this.stopping = true;
    clearInterval(this.ticker);
    this.drop('stopping', () => true);
  }

  private async admit(socket: WebSocket, url: URL, token: string | null): Promise<Closing | null> {
    const [, , board = '', name = '', rest] = url.pathname.split('/');
    const as = role.safeParse(url.searchParams.get('as'));
    if (!Object.hasOwn(areas, name) || rest !== undefined) return 'gone';
    const area = name as AreaName;
    if (token === null || !as.success) return 'unknown';
    const first = await this.grants.of(token, board, as.data);
    if (!first.ok) return refusals[first.problem.code] ?? 'unknown';
    if (!may(as.data, area, 'read')) return 'noRight';
    await this.turnOf(first.value.membership);
    const room = await this.rooms.enter(board, area);
    // Its link may have been revoked while the room was loading. From here to joining there is no further wait.
    const grant = await this.grants.of(token, board, as.data);
    if (!grant.ok) return refusals[grant.problem.code] ?? 'unknown';
    if (this.stopping) return 'stopping';
    if (!room.isOpen) return 'failed';
    const connection = new Connection(socket, room, grant.value, hashOf(token), this.metrics, {
      acknowledges: url.searchParams.get('ack') === '1',
      onEnd: (closing) => {
        if (refusing.includes(closing)) this.refusals.take(grant.value.membership);
        this.connections.delete(connection);
        this.rooms.waitForIdle(room);
      },
    });
    this.connections.set(connection, this.admitted++ % LOOKS_A_PING);
    connection.greet();
    socket.resume();
    return null;
  }

  /** At once for everybody of whom little was refused. */
  private async turnOf(membership: string): Promise<void> {
    const seconds = this.refusals.waitOf(membership);
    if (seconds === 0) return;
    this.refusals.take(membership);
    await new Promise((resolve) => setTimeout(resolve, seconds * 1000));
  }

  private look(): void {
    const now = this.options.clock().toISOString();
    this.drop('ended', ({ grant }) => grant.endsAt !== null && grant.endsAt <= now);
    this.looks = (this.looks + 1) % LOOKS_A_PING;
    for (const [connection, turn] of this.connections) if (turn === this.looks) connection.ping();
  }

  private drop(closing: Closing, which: (connection: Connection) => boolean): void {
    for (const connection of [...this.connections.keys()]) if (which(connection)) connection.close(closing);
  }
}

/** How a socket is closed whose right was refused. */
const refusals: Record<string, Closing> = { 'not found': 'gone', ended: 'ended', revoked: 'revoked' };

function turnAway(socket: WebSocket, closing: Closing): void {
  socket.resume();
  socket.close(closings[closing].code);
}
