import type { IncomingMessage } from 'node:http';
import type { Duplex } from 'node:stream';
import { WebSocket, WebSocketServer } from 'ws';
import { hashOf } from '../../lib/access/links.ts';
import type { Services } from '../../lib/access/services.ts';
import { type Grant, tokenIn } from '../../lib/access/session.ts';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';
import { role } from '../../lib/core/areas/people.ts';
import { may } from '../../lib/core/areas/rights.ts';
import { type Closing, closings } from '../../lib/protocol/close.ts';
import { LARGEST_FRAME } from '../../lib/protocol/messages.ts';
import type { Measure } from '../../lib/store/store.ts';
import type { Log } from '../log.ts';
import type { Metrics } from '../metrics.ts';
import { networkOf, type Proxies, peerOf } from '../peer.ts';
import { refuseUpgrade } from '../upgrade.ts';
import { Vessels } from '../vessels.ts';
import { AreaApart } from './apart.ts';
import { Budget, Turns } from './budget.ts';
import { CLOSING_MS, Connection } from './connection.ts';
import type { Room } from './room.ts';
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

/** How long it may take until it is known who speaks and the room is loaded. */
const ADMITTING_MS = 10_000;
/** Sockets of one address for which this is found out at the same time; of each the system holds some of what it sends, and we nothing. */
const MOST_WAITING = 256;
/** Connections in one room: everybody of a wedding, several times. */
const MOST_IN_A_ROOM = 100;

/** Where a socket may be, once that is found out. */
interface Place {
  room: Room;
  grant: Grant;
  session: string;
  /** When its grant was asked for, in milliseconds of a clock that only goes on. */
  asked: number;
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
  /** Of each link that is here, or has used more than it has. */
  private readonly budgets = new Map<string, Budget>();
  private readonly turns = new Turns();
  /** How many of each address wait to be admitted. */
  private readonly waiting = new Map<string, number>();
  /** When what came by a link or session was dropped: who was being admitted meanwhile is so by what holds no longer. */
  private readonly dropped = new Map<string, number>();
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
    private readonly options: { proxies: Proxies; clock(): Date },
  ) {
    metrics.gauge('connections', () => this.connections.size);
    metrics.gauge('rooms', () => rooms.count);
    this.ticker = setInterval(() => this.look(), LOOK_MS).unref();
  }

  /** Takes over the line: nothing of it is read before it is known who speaks and the room is loaded. */
  upgrade(target: URL, request: IncomingMessage, line: Duplex, head: Buffer): void {
    const network = networkOf(peerOf(request, this.options.proxies));
    const beside = this.waiting.get(network) ?? 0;
    if (this.stopping || beside >= MOST_WAITING) {
      refuseUpgrade(line, 503);
      return;
    }
    this.waiting.set(network, beside + 1);
    void this.placeInTime(target, tokenIn(request.headers.cookie)).then((place) => {
      const left = this.waiting.get(network)! - 1;
      if (left === 0) this.waiting.delete(network);
      else this.waiting.set(network, left);
      this.sockets.handleUpgrade(request, line, head, (socket) => {
        const refused = typeof place === 'string' ? place : this.admit(socket, line, target, place);
        if (refused) turnAway(socket, line, refused);
      });
    });
  }

  /** Closes at once what came by a link that was revoked. */
  dropLink(link: string): void {
    this.dropped.set(link, performance.now());
    this.drop('revoked', ({ grant }) => grant.link === link);
  }

  /** A link was frozen, or is so no longer: what came by it comes back with what it may do now. */
  openAnew(link: string): void {
    this.dropped.set(link, performance.now());
    this.drop('changed', ({ grant }) => grant.link === link);
  }

  /** The instructor has signed out there: what came by links stays. */
  dropInstructor(session: string): void {
    this.dropped.set(session, performance.now());
    this.drop('ended', (connection) => connection.session === session && connection.grant.link === null);
  }

  /** What the open connections rest on. */
  standing(): { links: string[]; frozen: string[]; sessions: string[] } {
    const links = new Set<string>();
    const frozen = new Set<string>();
    const sessions = new Set<string>();
    for (const { grant, session } of this.connections.keys())
      if (grant.link === null) sessions.add(session);
      else (grant.frozen ? frozen : links).add(grant.link);
    return { links: [...links], frozen: [...frozen], sessions: [...sessions] };
  }

  stop(): void {
    this.stopping = true;
    clearInterval(this.ticker);
    this.drop('stopping', () => true);
    for (const budget of this.budgets.values()) budget.stop();
  }

  private async placeInTime(target: URL, token: string | null): Promise<Place | Closing> {
    let timer: NodeJS.Timeout | null = null;
    const late = new Promise<Closing>((resolve) => {
      timer = setTimeout(() => resolve('slow'), ADMITTING_MS);
    });
    try {
      return await Promise.race([this.place(target, token), late]);
    } catch (error) {
      if (error instanceof AreaApart) return 'apart';
      this.log.error('a socket was not admitted', { reason: String(error) });
      return 'failed';
    } finally {
      clearTimeout(timer!);
    }
  }

  private async place(target: URL, token: string | null): Promise<Place | Closing> {
    const [, , board = '', name = '', rest] = target.pathname.split('/');
    const as = role.safeParse(target.searchParams.get('as'));
    if (!Object.hasOwn(areas, name) || rest !== undefined) return 'gone';
    const area = name as AreaName;
    if (token === null || !as.success) return 'unknown';
    const first = await this.grants.of(token, board, as.data);
    if (!first.ok) return refusals[first.problem.code] ?? 'unknown';
    if (!may(as.data, area, 'read')) return 'noRight';
    await this.turnOf(first.value.membership);
    const room = await this.rooms.enter(board, area);
    // Its link may have been revoked while the room was loading.
    const asked = performance.now();
    const grant = await this.grants.of(token, board, as.data);
    if (!grant.ok) return refusals[grant.problem.code] ?? 'unknown';
    return { room, grant: grant.value, session: hashOf(token), asked };
  }

  private admit(socket: WebSocket, line: Duplex, target: URL, place: Place): Closing | null {
    const { room, grant, session, asked } = place;
    const budget = this.budgetOf(grant);
    if (this.stopping) return 'stopping';
    if (!room.isOpen) return 'failed';
    // What was read of it is no longer so: whoever comes again is told what is.
    if ((this.dropped.get(grant.link ?? session) ?? -1) >= asked) return 'changed';
    if (!budget.hasPlaceIn(room) || room.size >= MOST_IN_A_ROOM) {
      this.refusals.take(grant.membership);
      return 'crowded';
    }
    // Such as a frame beyond the limit. The other end is given time to read why; what it still sends is read no more.
    socket.on('error', () => {
      setImmediate(() => socket.pause());
      setTimeout(() => socket.terminate(), CLOSING_MS).unref();
    });
    const connection = new Connection(socket, room, grant, session, this.metrics, {
      budget,
      acknowledges: target.searchParams.get('ack') === '1',
      onEnd: (closing) => {
        if (refusing.includes(closing)) this.refusals.take(grant.membership);
        this.connections.delete(connection);
        this.rooms.waitForIdle(room);
      },
    });
    budget.watch(socket, line, room, () => connection.cut());
    this.connections.set(connection, this.admitted++ % LOOKS_A_PING);
    connection.greet();
    return null;
  }

  /** What all who came by the same link share, and by those that were made with it. */
  private budgetOf({ root }: Grant): Budget {
    const known = this.budgets.get(root);
    if (known) return known;
    const budget = new Budget(this.turns);
    this.budgets.set(root, budget);
    return budget;
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
    const forgotten = performance.now() - ADMITTING_MS;
    for (const [id, at] of this.dropped) if (at < forgotten) this.dropped.delete(id);
    this.looks = (this.looks + 1) % LOOKS_A_PING;
    for (const [connection, turn] of this.connections) if (turn === this.looks) connection.ping();
    for (const [root, budget] of this.budgets) if (budget.isIdle) this.budgets.delete(root);
  }

  private drop(closing: Closing, which: (connection: Connection) => boolean): void {
    for (const connection of [...this.connections.keys()]) if (which(connection)) connection.close(closing);
  }
}

/** How a socket is closed whose right was refused. */
const refusals: Record<string, Closing> = { 'not found': 'gone', ended: 'ended', revoked: 'revoked' };

/** Tells why and ends the line; what the other end still sends is taken in and looked at by nobody. */
function turnAway(socket: WebSocket, line: Duplex, closing: Closing): void {
  socket.on('error', () => undefined);
  socket.close(closings[closing].code);
  line.removeAllListeners('data');
  line.resume();
  line.end();
  const timer = setTimeout(() => line.destroy(), CLOSING_MS);
  line.once('close', () => clearTimeout(timer));
}
