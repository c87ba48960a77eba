import * as Y from 'yjs';
import type { Grant } from '../../../lib/access/session.ts';
import { readArea } from '../../../lib/board/area.ts';
import { newArea } from '../../../lib/board/layout.ts';
import { type AreaName, areas } from '../../../lib/core/areas/board.ts';
import type { Role } from '../../../lib/core/areas/people.ts';
import { type Nodes, noOthers } from '../../../lib/store/nodes.ts';
import type { Store } from '../../../lib/store/store.ts';
import { Metrics } from '../../../server/metrics.ts';
import { type Audits, always } from '../../../server/sync/audit.ts';
import { Budget, Turns } from '../../../server/sync/budget.ts';
import { Connection } from '../../../server/sync/connection.ts';
import { MISMATCH, Rooms } from '../../../server/sync/rooms.ts';
import type { Line } from './line.ts';

/** The rooms and connections of a server, without its sockets and doors: in this process, on a store that is given. */
export class Site {
  readonly logged: string[] = [];
  readonly rooms: Rooms;
  readonly metrics = new Metrics();

  constructor(
    readonly store: Store,
    options: { nodes?: Nodes; idleMs?: number; audits?: Audits } = {},
  ) {
    const log = {
      info: () => undefined,
      error: (event: string, fields: object = {}) =>
        void this.logged.push(`${event} ${JSON.stringify(fields)}`),
    };
    const { idleMs = 60_000, nodes = noOthers, audits = always } = options;
    this.rooms = new Rooms(store, log, idleMs, nodes, () => undefined, audits);
  }

  /** A line into the area, as somebody whose right was checked already. */
  async enter(grant: Grant, area: AreaName, line: Line): Promise<Connection> {
    const room = await this.rooms.enter(grant.board, area);
    if (!room.isOpen) throw new Error('the room has ended already');
    const connection: Connection = new Connection(line.socket, room, grant, '', this.metrics, {
      // Without a clock: whoever attacks here is never made to wait.
      budget: new Budget(new Turns(), () => 0),
      acknowledges: true,
      onEnd: () => {
        this.rooms.waitForIdle(room);
      },
    });
    connection.greet();
    line.resume();
    return connection;
  }

  /** What rooms found wrong with themselves, and mended by beginning anew. */
  get mismatches(): readonly string[] {
    return this.logged.filter((line) => line.startsWith(MISMATCH));
  }

  stop(): Promise<void> {
    return this.rooms.stop();
  }
}

export const grantFor = (board: string, role: Role, membership: string): Grant => ({
  ...{ board, role, membership },
  link: membership,
  root: membership,
  frozen: false,
  endsAt: null,
});

/** An area as the store gives it back; throws where that cannot be read, or is not whole. */
export async function rebuilt(store: Store, board: string, area: AreaName): Promise<Y.Doc> {
  const doc = newArea(areas[area]);
  for (const update of (await store.areas.load(board, area)).updates) Y.applyUpdate(doc, update);
  if (doc.store.pendingStructs || doc.store.pendingDs) throw new Error('what is stored is not whole');
  return doc;
}

/** In what one document differs from another; null when all that can be read of the two is the same. */
export function difference(area: AreaName, one: Y.Doc, other: Y.Doc): string | null {
  const [a, b] = [one, other].map((doc) => ({
    state: [...Y.decodeStateVector(Y.encodeStateVector(doc))].sort(([x], [y]) => x - y),
    data: JSON.stringify(readArea(doc, areas[area])),
  }));
  if (JSON.stringify(a!.state) !== JSON.stringify(b!.state))
    return `state ${JSON.stringify(a!.state)} and ${JSON.stringify(b!.state)}`;
  return a!.data === b!.data ? null : `${a!.data} and ${b!.data}`;
}

/** Lets everything that is ready happen. */
export const turn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
