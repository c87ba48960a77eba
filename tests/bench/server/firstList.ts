import { monitorEventLoopDelay } from 'node:perf_hooks';
import { PAGE } from '../../../lib/protocol/listPage.ts';
import { serve } from '../../../server/serve.ts';

/** What the first list of this process took. */
export interface Listed {
  ms: number;
  /** Milliseconds that processors worked for it: on a busy machine it takes longer than these. */
  worked: number;
  bytes: number;
  boards: number;
  /** Milliseconds for which nothing else had its turn. */
  longest: number;
  /** Milliseconds of the page after it. */
  next: number;
}

/** Our server on the folder that the command line names, in a process of its own and without pages, asked for its list. */
const started = await serve({
  folder: process.argv[2]!,
  ...{ port: 0, host: '127.0.0.1', origin: null, dev: false, program: 'bench' },
  log: { info: () => undefined, error: (event) => void process.stderr.write(`${event}\n`) },
  openPages: async () => ({
    handle: async (_request, response) => void response.end(),
    stop: async () => undefined,
  }),
});
if (!started.ok) throw new Error(started.problem.sentence);
const { boards } = started.value.services;
const delays = monitorEventLoopDelay({ resolution: 1 });
delays.enable();
const processor = process.cpuUsage();
const before = performance.now();
const page = await boards.list('UTC', { from: 0, count: PAGE });
const ms = performance.now() - before;
const { user, system } = process.cpuUsage(processor);
delays.disable();
const between = performance.now();
await boards.list('UTC', { from: PAGE, count: PAGE });
process.send!({
  ms,
  worked: (user + system) / 1000,
  bytes: Buffer.byteLength(JSON.stringify(page)),
  boards: page.boards.length,
  longest: delays.max / 1e6,
  next: performance.now() - between,
} satisfies Listed);
