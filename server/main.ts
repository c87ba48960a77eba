import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { endWith } from './ending.ts';
import { readEnvironment } from './environment.ts';
import { jsonLog } from './log.ts';
import { addressOf } from './origin.ts';
import { openPages } from './pages.ts';
import { serve } from './serve.ts';
import { demoLinks, noDemo, printForPeople } from './start.ts';

/** Starts the server. `--json-links` prints the demo's links as one line of JSON instead of words. */
const log = jsonLog((line) => process.stderr.write(line));
// From a checkout's sources it is development, from the bundle it is not: nobody has to remember a variable.
const dev = import.meta.url.endsWith('.ts');
Object.assign(process.env, { NODE_ENV: dev ? 'development' : 'production' });

// Programs read standard output; what the page renderer has to say goes beside it.
console.log = console.error;
// Whoever read the log has gone: the server goes on without one, instead of reporting for ever that nobody reads.
for (const stream of [process.stdout, process.stderr]) stream.on('error', () => undefined);

const environment = readEnvironment(process.env);
if (!environment.ok) endWith(environment.problem.sentence);
const { port, host, folder, databaseUrl, demo: showsDemo, setUpCode } = environment.value;
const started = await serve({
  ...environment.value,
  log,
  dev,
  program: dev
    ? null
    : createHash('sha256')
        .update(await readFile(new URL(import.meta.url)))
        .digest('hex'),
  onLost: endWith,
  openPages: (server) => openPages(server, dev, port, host),
});
if (!started.ok) endWith(started.problem.sentence);
const running = started.value;

/** Longest that stopping may take, in milliseconds. */
const STOPPING_MS = 15_000;
let stopping = false;
const stop = (signal: string) => {
  if (stopping) return;
  stopping = true;
  log.info('stopping', { signal });
  // What was acknowledged is stored, whatever still hangs.
  setTimeout(
    () => endWith('Stopping took too long, and was cut short: nothing is lost.'),
    STOPPING_MS,
  ).unref();
  running.stop().then(
    () => process.exit(0),
    (error: unknown) => endWith(String(error)),
  );
};
process.on('SIGTERM', stop);
process.on('SIGINT', stop);

const address = addressOf(environment.value, running.port);
// The links of the demo that another node printed are not this one's to renew.
const node = databaseUrl === null ? '' : ` of ${hostname()} ${running.port}`;
const demo = await (showsDemo
  ? demoLinks(running.services, address, node)
  : noDemo(running.services, node)
).catch((error: unknown) =>
  endWith(
    databaseUrl === null
      ? `Nothing can be stored in ${folder} (${String(error)}): make room in it.`
      : `Nothing can be stored in the database (${String(error)}).`,
  ),
);
if (process.argv.includes('--json-links')) process.stdout.write(`${JSON.stringify(demo)}\n`);
else await printForPeople(running, address, demo, typeof setUpCode === 'string');
