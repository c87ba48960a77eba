import type { IncomingMessage } from 'node:http';
import type { Duplex } from 'node:stream';
import { type WebSocket, WebSocketServer } from 'ws';
import { hashOf } from '../../lib/access/links.ts';
import { may } from '../../lib/access/roles.ts';
import type { Services } from '../../lib/access/services.ts';
import { tokenIn } from '../../lib/access/session.ts';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';
import { role } from '../../lib/core/areas/people.ts';
import { type Closing, closings } from '../../lib/protocol/close.ts';
import { LARGEST_FRAME } from '../../lib/protocol/messages.ts';
import { isOurHost } from '../door.ts';
import type { Log } from '../log.ts';
import type { Metrics } from '../metrics.ts';
import { isOurOwn } from '../origin.ts';
import { CLOSING_MS, Connection } from './connection.ts';
import type { Rooms } from './rooms.ts';

/** How often grants are looked at for their end, and after how many looks a connection is pinged: at each look another share of them. */
const LOOK_MS = 500;
const LOOKS_A_PING = 30;

/** Admits sockets to rooms, and keeps the list of those that are in. */
export class SyncServer {
  private readonly sockets = new WebSocketServer({
    noServer: true,
    // Over our own limit, so that what is somewhat too large gets a closing code that a client understands.
    maxPayload: 2 * LARGEST_FRAME,
    perMessageDeflate: false,
  });
  /** Each with the look, of LOOKS_A_PING, at which it is pinged: thousands at once would keep everybody waiting. */
  private readonly connections = new Map<Connection, number>();
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
      // Such as a frame beyond the limit: the library closes with the standard's code, which the other end is given time to read.
      opened.on('error', () => setTimeout(() => opened.terminate(), CLOSING_MS).unref());
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
  standing(): { links: string[]; sessions: string[] } {
    const links = new Set<string>();
    const sessions = new Set<string>();
    for (const { grant, session } of this.connections.keys())
      if (grant.link === null) sessions.add(session);
      else links.add(grant.link);
    return { links: [...links], sessions: [...sessions] };
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
    const room = await this.rooms.enter(board, area);
    // Its link may have been revoked while the room was loading. From here to joining there is no further wait.
    const grant = await this.grants.of(token, board, as.data);
    if (!grant.ok) return refusals[grant.problem.code] ?? 'unknown';
    if (this.stopping) return 'stopping';
    if (!room.isOpen) return 'failed';
    const connection = new Connection(socket, room, grant.value, hashOf(token), this.metrics, {
      acknowledges: url.searchParams.get('ack') === '1',
      onEnd: () => {
        this.connections.delete(connection);
        this.rooms.waitForIdle(room);
      },
    });
    this.connections.set(connection, this.admitted++ % LOOKS_A_PING);
    connection.greet();
    socket.resume();
    return null;
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
