import type { Services } from '../../../lib/access/services.ts';
import { instructorGrant } from '../../../lib/access/session.ts';
import type { Role } from '../../../lib/core/areas/people.ts';
import { serve } from '../../../server/serve.ts';
import { boardOf } from '../../kit/board.ts';
import { answerMemory } from './memory.ts';

/** What the process is told on its command line, as JSON. */
export interface Wanted {
  folder: string;
  databaseUrl?: string | null;
  redisUrl?: string | null;
  /** New boards, each with a whole song's plan or with only its couple, and a browser for each of these roles. */
  boards: number;
  whole?: boolean;
  roles: readonly Role[];
  idleMs?: number;
}

export interface Invited {
  id: string;
  cookies: Partial<Record<Role, string>>;
}

const AT_ONCE = 100;

/** Our server in a process of its own, without pages, with boards and people who may come. */
const wanted = JSON.parse(process.argv[2]!) as Wanted;
const started = await serve({
  folder: wanted.folder,
  databaseUrl: wanted.databaseUrl ?? null,
  redisUrl: wanted.redisUrl ?? null,
  ...(wanted.idleMs === undefined ? {} : { idleMs: wanted.idleMs }),
  port: 0,
  host: '127.0.0.1',
  origin: null,
  dev: false,
  log: {
    info: () => undefined,
    error: (event, fields) => void process.stderr.write(`${event} ${JSON.stringify(fields)}\n`),
  },
  openPages: async () => ({
    handle: async (_request, response) => void response.end(),
    stop: async () => undefined,
  }),
});
if (!started.ok) throw new Error(started.problem.sentence);
const { services, port } = started.value;

async function makeOne(of: Services): Promise<Invited> {
  const made = wanted.whole
    ? await of.boards.makeFrom(boardOf())
    : {
        ok: true as const,
        value: await of.boards.make({ one: 'Ida', other: 'Tomas', date: null, venue: '' }),
      };
  if (!made.ok) throw new Error(made.problem.sentence);
  const id = made.value;
  const cookies: Invited['cookies'] = {};
  for (const role of wanted.roles) {
    const link = await of.links.make(instructorGrant(id), role, null);
    if (!link.ok) throw new Error(link.problem.sentence);
    const joined = await of.grants.join(link.value.token, null);
    if (!joined.ok) throw new Error(joined.problem.sentence);
    cookies[role] = `larkstep=${joined.value.token}`;
  }
  return { id, cookies };
}

const boards: Invited[] = [];
while (boards.length < wanted.boards) {
  const count = Math.min(AT_ONCE, wanted.boards - boards.length);
  boards.push(...(await Promise.all(Array.from({ length: count }, () => makeOne(services)))));
}
answerMemory();
process.send!({ port, boards });
