import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startOurs, startStock } from './children.ts';
import { openPlaces } from './cluster.ts';
import { Crowd } from './crowd.ts';
import { judge, load, printTable, quantile, syncTimes } from './figures.ts';
import type { Seat } from './light.ts';
import type { Words } from './words.ts';

/** One edit to all others, ours and a stock server by turns, with the sync time of our folder between. */
export async function latency(words: Words): Promise<void> {
  const boards = words.boards ?? 50;
  const people = words.people ?? 4;
  const rate = (words.edits ?? 400) / (boards * people);
  const rounds = words.rounds ?? 6;
  const seconds = words.seconds ?? 5;
  const nodes = words.nodes ?? 1;
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-bench-'));
  const places = nodes > 1 ? await openPlaces() : null;
  const stock = await startStock();
  const asked = { folder, ...places?.urls, roles: ['couple'] as const };
  const ours = [await startOurs({ ...asked, boards, whole: true })];
  while (ours.length < nodes) ours.push(await startOurs({ ...asked, boards: 0 }));
  const seats = (addresses: readonly string[]): Seat[] =>
    ours[0]!.boards.flatMap(({ id, cookies }) =>
      Array.from({ length: people }, (_, index) => ({
        address: addresses[index % addresses.length]!,
        board: id,
        area: 'plan' as const,
        role: 'couple' as const,
        cookie: cookies.couple!,
      })),
    );
  try {
    const crowds = {
      stock: await Crowd.open(seats([stock.address])),
      ours: await Crowd.open(seats(ours.map(({ address }) => address))),
    };
    const syncs: number[] = [];
    const worked = { stock: 0, ours: 0 };
    const servers = { stock: [stock], ours };
    const workedSoFar = async (name: keyof typeof crowds) => {
      const each = await Promise.all(servers[name].map((server) => server.memory()));
      return each.reduce((sum, memory) => sum + memory.worked, 0);
    };
    for (const crowd of Object.values(crowds)) await crowd.edit(crowd.people, rate, 4);
    for (const crowd of Object.values(crowds)) {
      crowd.latencies = [];
      crowd.edits = 0;
    }
    for (let round = 0; round < rounds; round++)
      for (const name of round % 2 ? (['ours', 'stock'] as const) : (['stock', 'ours'] as const)) {
        syncs.push(...syncTimes(folder));
        const before = await workedSoFar(name);
        await crowds[name].edit(crowds[name].people, rate, seconds);
        worked[name] += (await workedSoFar(name)) - before;
      }
    const sync = quantile(syncs, 0.5);
    process.stdout.write(
      `${boards} boards x ${people} people x ${rate} edits/s, ${rounds} rounds of ${seconds} s each, ${nodes} node(s), ${load()}\n`,
    );
    const rows = (['stock', 'ours'] as const).map((name) => {
      const { edits, latencies, refused } = crowds[name];
      return {
        name,
        edits,
        seen: latencies.length,
        p50: quantile(latencies, 0.5),
        p95: quantile(latencies, 0.95),
        p99: quantile(latencies, 0.99),
        closed: [...refused.values()].reduce((sum, count) => sum + count, 0),
        processor: worked[name] / edits,
      };
    });
    printTable([
      ['server', 'edits', 'seen', 'p50 ms', 'p95 ms', 'p99 ms', 'closed', 'processor ms an edit'],
      ...rows.map(({ name, edits, seen, p50, p95, p99, closed, processor }) => [
        name,
        edits,
        seen,
        p50,
        p95,
        p99,
        closed,
        processor,
      ]),
    ]);
    process.stdout.write(
      `fdatasync of our folder: p50 ${sync.toFixed(2)} ms, p99 ${quantile(syncs, 0.99).toFixed(2)} ms\n`,
    );
    const [theirs, own] = rows as [(typeof rows)[0], (typeof rows)[0]];
    const factor = nodes > 1 ? 3 : 2;
    const bar50 = factor * theirs.p50 + 2 * sync;
    const bar99 = 3 * theirs.p99 + 2 * sync;
    judge(
      `p50 ${own.p50.toFixed(2)} <= ${factor} x stock + 2 x fdatasync = ${bar50.toFixed(2)} ms`,
      own.p50 <= bar50,
    );
    judge(
      `p99 ${own.p99.toFixed(2)} <= 3 x stock + 2 x fdatasync = ${bar99.toFixed(2)} ms`,
      own.p99 <= bar99,
    );
    judge(
      `every edit was seen by all others: ${own.seen} of ${own.edits * (people - 1)}`,
      own.seen === own.edits * (people - 1),
    );
  } finally {
    await Promise.all([stock, ...ours].map((child) => child.kill()));
    await places?.end();
    await rm(folder, { recursive: true });
  }
}
