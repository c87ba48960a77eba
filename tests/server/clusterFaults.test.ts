import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import {
  clusterMissing,
  STARTING_MS,
  startPostgres,
  startRedis,
  type TestPostgres,
  type TestRedis,
} from '../kit/cluster.ts';
import { guest } from './guest.ts';
import { enterAt, joinAt, lead, makeBoardAt, type Node, openNode, type Places } from './node.ts';

const AT = '2031-05-01T10:00:00.000Z';
/** How many edits of the first writer are acknowledged before something goes wrong, and of each in the end. */
const ENOUGH = 30;
const MOST = 80;

type Writer = ReturnType<typeof guest<'lessons'>>;
const entry = (who: number, edit: number) =>
  ({ collection: 'readiness', id: `${who}-${edit}`, fields: { level: 1, at: AT } }) as const;

/** Writes one after another; what is acknowledged on a connection counts as promised from then on. */
function writing(writer: Writer, who: number) {
  const promised = new Set<string>();
  let written = 0;
  let enough: () => void = () => undefined;
  const begun = new Promise<void>((resolve) => {
    enough = resolve;
  });
  const run = async () => {
    while (written < MOST) {
      writer.write(entry(who, ++written));
      // Frame 1 is the answer to the server's greeting; a lost connection begins to count anew, with all that is unsaid in it.
      const edit = written;
      await writer.saved();
      promised.add(`${who}-${edit}`);
      if (edit === ENOUGH) enough();
    }
  };
  return { promised, begun, done: run() };
}

describe.skipIf(clusterMissing !== null)(
  'when something fails under writing',
  { timeout: STARTING_MS },
  () => {
    let postgres: TestPostgres;
    let redis: TestRedis;
    let places: Places;
    let nodes: Node[] = [];
    const guests: { leave(): void }[] = [];
    beforeAll(async () => {
      [postgres, redis] = await Promise.all([startPostgres(), startRedis()]);
      places = { databaseUrl: await postgres.newDatabase(), redisUrl: redis.url };
      nodes = await Promise.all([openNode(places), openNode(places)]);
    }, STARTING_MS);
    afterAll(async () => {
      await Promise.all(nodes.map((node) => node.stop()));
      await Promise.all([postgres?.end(), redis?.stop()]);
    });
    afterEach(() => {
      for (const guest of guests.splice(0)) guest.leave();
    });

    /** Four people, two at each node, all writing. */
    async function fourWriters(board: string) {
      const writers: Writer[] = [];
      for (const node of [nodes[0]!, nodes[1]!, nodes[0]!, nodes[1]!]) {
        const { as } = await joinAt(node, board, 'couple');
        const writer = guest(node, as, 'lessons');
        guests.push(writer);
        writers.push(writer);
        await writer.synced();
      }
      return { writers, runs: writers.map(writing) };
    }
    /** Everything that was promised is there for whoever comes now, and everything written arrives in the end. */
    async function expectAll(board: string, { writers, runs }: Awaited<ReturnType<typeof fourWriters>>) {
      await Promise.all(runs.map(({ done }) => done));
      const all = writers.length * MOST;
      await Promise.all(writers.map((writer) => writer.sees(({ readiness }) => readiness.length === all)));
      const fresh = await openNode(places);
      try {
        const late = await enterAt(fresh, board, 'instructor', 'lessons');
        const kept = new Set(late.read().readiness.map(({ id }) => id));
        late.leave();
        expect(kept.size).toBe(all);
        for (const { promised } of runs) for (const id of promised) expect(kept.has(id), id).toBe(true);
      } finally {
        await fresh.stop();
      }
    }

    test('Redis restarted: everybody goes on, and sees everything', async () => {
      const board = await makeBoardAt(nodes[0]!);
      const four = await fourWriters(board);
      await four.runs[0]!.begun;
      await redis.stop();
      await redis.start();
      await expectAll(board, four);
    });

    test('PostgreSQL stopped without a word: nothing promised is lost, and clients come back by themselves', async () => {
      const board = await makeBoardAt(nodes[0]!);
      const four = await fourWriters(board);
      await four.runs[0]!.begun;
      postgres.crash();
      const promised = four.runs.map((run) => new Set(run.promised));
      expect((await nodes[0]!.running.services.health()).healthy).toBe(false);
      postgres.start();
      await expectAll(board, four);
      expect(promised[0]!.size).toBeLessThan(MOST);
    });

    test('a node killed: what it promised is kept, and its people go on at another', async () => {
      const words = [join(import.meta.dirname, 'victim.ts'), tmpdir(), places.databaseUrl, places.redisUrl!];
      const victim = spawn(process.execPath, ['--import', 'tsx', ...words], {
        stdio: ['ignore', 'pipe', 'inherit'],
      });
      const [line] = (await once(createInterface(victim.stdout), 'line')) as [string];
      const { port, board, cookie } = JSON.parse(line) as { port: number; board: string; cookie: string };
      const as = { board, role: 'couple', cookie };
      const address = `http://127.0.0.1:${port}`;
      const writers = [address, address, nodes[0]!.address, nodes[1]!.address].map((at) =>
        guest({ address: at }, as, 'lessons'),
      );
      guests.push(...writers);
      await Promise.all(writers.map((writer) => writer.synced()));
      const runs = writers.map(writing);
      await runs[0]!.begun;
      victim.kill('SIGKILL');
      await once(victim, 'exit');
      expect(runs[0]!.promised.size).toBeLessThan(MOST);
      for (const writer of writers.slice(0, 2)) lead(writer, nodes[1]!);
      await expectAll(board, { writers, runs });
    });
  },
);
