import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { chown, mkdtemp, rm } from 'node:fs/promises';
import { type AddressInfo, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';

/** PostgreSQL and Redis of our own: in a temporary folder, on free ports, ended by their process ids. Never the system's. */
const POSTGRES = ['15', '16', '17', '18']
  .map((version) => `/usr/lib/postgresql/${version}/bin`)
  .find((folder) => existsSync(join(folder, 'initdb')));
const REDIS = ['/usr/bin/redis-server', '/usr/local/bin/redis-server'].find((path) => existsSync(path));

/** Why tests on several nodes cannot run here; null when they can. Where they must run, what is missing is a failure. */
export const clusterMissing = ((): string | null => {
  const missing = [...(POSTGRES ? [] : ['PostgreSQL 15']), ...(REDIS ? [] : ['Redis'])];
  if (missing.length === 0) return null;
  const words = `${missing.join(' and ')} not installed (apt-get install postgresql redis-server)`;
  if (process.env.LARKSTEP_CLUSTER_TESTS === 'required') throw new Error(words);
  process.stderr.write(`Tests on several nodes are skipped: ${words}.\n`);
  return words;
})();

/** How long starting them may take on a computer that is busy with other tests. */
export const STARTING_MS = 120_000;

export interface TestPostgres {
  /** A new empty database. */
  newDatabase(): Promise<string>;
  /** Ends it as a power cut would, without a last checkpoint. */
  crash(): void;
  start(): void;
  end(): Promise<void>;
}

export async function startPostgres(): Promise<TestPostgres> {
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-postgres-'));
  const port = await freePort();
  // It refuses to run as root: then as the account that its package made.
  const asRoot = process.getuid?.() === 0;
  if (asRoot) await chown(folder, idOf('postgres'), -1);
  const run = (program: string, ...words: string[]) => {
    const command = [join(POSTGRES!, program), '-D', join(folder, 'data'), ...words];
    const [first, ...rest] = asRoot ? ['runuser', '-u', 'postgres', '--', ...command] : command;
    execFileSync(first!, rest, { stdio: ['ignore', 'ignore', 'inherit'], cwd: folder });
  };
  const settings = `-p ${port} -k ${folder} -c listen_addresses=127.0.0.1 -c fsync=on -c shared_buffers=32MB`;
  const log = join(folder, 'log');
  const start = () => run('pg_ctl', 'start', '-w', '-s', '-l', log, '-o', settings);
  const stop = () => run('pg_ctl', 'stop', '-w', '-s', '-m', 'immediate');
  run('initdb', '-U', 'larkstep', '-A', 'trust', '-E', 'UTF8', '--locale', 'C', '--no-sync');
  start();
  const urlOf = (database: string) => `postgres://larkstep@127.0.0.1:${port}/${database}`;
  let databases = 0;
  let running = true;
  // Also when the tests end before their time.
  process.once('exit', () => running && stop());
  return {
    async newDatabase() {
      const name = `test${++databases}`;
      const client = new pg.Client(urlOf('postgres'));
      await client.connect();
      await client.query(`CREATE DATABASE ${name}`);
      await client.end();
      return urlOf(name);
    },
    crash() {
      stop();
      running = false;
    },
    start() {
      start();
      running = true;
    },
    async end() {
      if (running) stop();
      running = false;
      await rm(folder, { recursive: true });
    },
  };
}

export interface TestRedis {
  url: string;
  stop(): Promise<void>;
  start(): Promise<void>;
}

export async function startRedis(): Promise<TestRedis> {
  const port = await freePort();
  let server: ChildProcess | null = null;
  const redis: TestRedis = {
    url: `redis://127.0.0.1:${port}`,
    async stop() {
      if (!server) return;
      const ended = once(server, 'exit');
      server.kill('SIGKILL');
      server = null;
      await ended;
    },
    async start() {
      const words = ['--port', `${port}`, '--bind', '127.0.0.1', '--save', '', '--appendonly', 'no'];
      server = spawn(REDIS!, words, { stdio: ['ignore', 'pipe', 'inherit'] });
      for await (const line of server.stdout!) if (String(line).includes('Ready to accept')) break;
      server.stdout!.resume();
    },
  };
  process.once('exit', () => server?.kill('SIGKILL'));
  await redis.start();
  return redis;
}

const idOf = (account: string): number => Number(execFileSync('id', ['-u', account], { encoding: 'utf8' }));

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address() as AddressInfo;
      server.close(() => resolve(port));
    });
  });
}
