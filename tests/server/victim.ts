import { services as provided } from '../../lib/access/services.ts';
import { instructorGrant } from '../../lib/access/session.ts';
import { serve } from '../../server/serve.ts';
import { always } from '../../server/sync/audit.ts';

/**
 * A server in a process of its own, without pages but `/health`, to be killed. Given a folder, or besides the addresses of a database and
 * of Redis; prints its port, a board and a cookie as one line.
 */
const [folder, databaseUrl = null, redisUrl = null] = process.argv.slice(2);
const silent = { info: () => undefined, error: () => undefined };
const started = await serve({
  ...{ folder: folder!, databaseUrl, redisUrl },
  port: 0,
  host: '127.0.0.1',
  origin: null,
  dev: false,
  log: silent,
  audits: always,
  openPages: async () => ({
    handle: async (request, response) => {
      if (request.url !== '/health') return void response.end();
      const { healthy, parts } = await provided().health();
      response.writeHead(healthy ? 200 : 503).end(JSON.stringify({ healthy, ...parts }));
    },
    stop: async () => undefined,
  }),
});
if (!started.ok) throw new Error(started.problem.sentence);
const { services, port } = started.value;
const board = await services.boards.make({ one: 'Ida', other: 'Tomas', date: null, venue: '' });
const link = await services.links.make(instructorGrant(board), 'couple', null);
if (!link.ok) throw new Error(link.problem.sentence);
const joined = await services.grants.join(link.value.token, null);
if (!joined.ok) throw new Error(joined.problem.sentence);
process.stdout.write(`${JSON.stringify({ port, board, cookie: `larkstep=${joined.value.token}` })}\n`);
