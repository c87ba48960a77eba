import { tmpdir } from 'node:os';
import { instructorGrant } from '../../lib/access/session.ts';
import type { AreaName } from '../../lib/core/areas/board.ts';
import type { Role } from '../../lib/core/areas/people.ts';
import { type Running, serve } from '../../server/serve.ts';
import { always } from '../../server/sync/audit.ts';
import { guest } from './guest.ts';

export interface Places {
  databaseUrl: string;
  redisUrl: string | null;
}

/** One of several servers on a shared database; without pages. */
export interface Node {
  address: string;
  running: Running;
  logged: string[];
  stop(): Promise<void>;
}

export async function openNode(
  places: Places,
  options: { idleMs?: number; port?: number; looks?: boolean } = {},
): Promise<Node> {
  const logged: string[] = [];
  const started = await serve({
    ...{
      folder: tmpdir(),
      host: '127.0.0.1',
      port: 0,
      origin: null,
      dev: false,
      audits: always,
      ...places,
      ...options,
    },
    log: {
      info: (event) => void logged.push(event),
      error: (event, fields = {}) => void logged.push(`${event} ${JSON.stringify(fields)}`),
    },
    openPages: async () => ({
      handle: async (_request, response) => void response.end(),
      stop: async () => undefined,
    }),
  });
  if (!started.ok) throw new Error(started.problem.sentence);
  const running = started.value;
  return {
    address: `http://127.0.0.1:${running.port}`,
    running,
    logged,
    stop: () => running.stop(),
  };
}

export const makeBoardAt = ({ running }: Node): Promise<string> =>
  running.services.boards.make({ one: 'Ida', other: 'Tomas', date: '2031-06-14', venue: 'Mill' });

/** A browser that joined by a link of its own; it may open the board at any node. */
export async function joinAt({ running: { services } }: Node, board: string, role: Role) {
  const made = await services.links.make(instructorGrant(board), role, null);
  if (!made.ok) throw new Error(made.problem.sentence);
  const joined = await services.grants.join(made.value.token, null);
  if (!joined.ok) throw new Error(joined.problem.sentence);
  return { link: made.value.id, as: { board, role, cookie: `larkstep=${joined.value.token}` } };
}

/** A stock client of a new member, in the area by this node. */
export async function enterAt<A extends AreaName>(node: Node, board: string, role: Role, area: A) {
  const { as } = await joinAt(node, board, role);
  const one = guest(node, as, area);
  await one.synced();
  return one;
}

/** Leads a client to another server, at its next try. */
export function lead(client: { provider: { serverUrl: string } }, { address }: { address: string }): void {
  const path = new URL(client.provider.serverUrl).pathname;
  client.provider.serverUrl = address.replace('http', 'ws') + path;
}
