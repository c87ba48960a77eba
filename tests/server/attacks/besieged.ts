import { instructorGrant } from '../../../lib/access/session.ts';
import type { Role } from '../../../lib/core/areas/people.ts';
import { serve } from '../../../server/serve.ts';
import { boardOf } from '../../kit/board.ts';
import { routesOnly } from '../house.ts';

/** What the process is told on its command line, as JSON. */
export interface Wanted {
  folder: string;
  port: number;
  databaseUrl?: string;
  redisUrl?: string;
  /** Links by role for a new board to attack; none where the boards are there already. */
  links: Partial<Record<Role, number>> | null;
}

/** A board and the cookies of those who may open it, by role. */
export interface Invited {
  id: string;
  cookies: Record<string, string[]>;
}
/** What it says once it listens. */
export interface Besieged {
  port: number;
  /** The instructor's, who sees the studio. */
  cookie: string;
  attacked: Invited;
  neighbour: Invited;
}

/** A server in a process of its own, to be attacked and killed: its pages are the routes alone. */
const wanted = JSON.parse(process.argv[2]!) as Wanted;
const started = await serve({
  ...wanted,
  host: '127.0.0.1',
  origin: null,
  dev: false,
  log: {
    info: () => undefined,
    error: (event, fields) => void process.stderr.write(`${event} ${JSON.stringify(fields)}\n`),
  },
  openPages: async () => routesOnly,
});
if (!started.ok) throw new Error(started.problem.sentence);
const { services, setUpCode, port } = started.value;
const say = (words: Partial<Besieged>) => process.stdout.write(`${JSON.stringify(words)}\n`);
if (wanted.links === null) say({ port });
else {
  const token = await services.instructor.setUp(
    { code: setUpCode ?? '', name: 'Rosa', passphrase: 'a phrase that nobody guesses' },
    '127.0.0.1',
    null,
  );
  if (!token.ok) throw new Error(token.problem.sentence);
  say({
    port,
    cookie: `larkstep=${token.value}`,
    attacked: await invited(wanted.links),
    neighbour: await invited({ couple: 1 }),
  });
}

async function invited(links: Partial<Record<Role, number>>): Promise<Invited> {
  const made = await services.boards.makeFrom(boardOf());
  if (!made.ok) throw new Error(made.problem.sentence);
  const cookies: Invited['cookies'] = {};
  for (const [role, count] of Object.entries(links)) {
    cookies[role] = [];
    for (let left = count; left > 0; left--) {
      const link = await services.links.make(instructorGrant(made.value), role as Role, null);
      if (!link.ok) throw new Error(link.problem.sentence);
      const joined = await services.grants.join(link.value.token, null);
      if (!joined.ok) throw new Error(joined.problem.sentence);
      cookies[role].push(`larkstep=${joined.value.token}`);
    }
  }
  return { id: made.value, cookies };
}
