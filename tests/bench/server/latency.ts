import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { dice } from '../../kit/synth.ts';
import { type Child, startOurs, startStock } from './children.ts';
import { openPlaces } from './cluster.ts';
import { Crowd, type Run } from './crowd.ts';
import { judge, load, printTable, quantile, syncTimes } from './figures.ts';
import type { Seat } from './light.ts';
import type { Invited } from './ours.ts';
import type { Words } from './words.ts';

/**
 * Before the first measure: a log of the database that no longer grows, and compiled code. At this rate the engine still compiles
 * after half a minute (its `--trace-opt`), and a server runs for weeks.
 */
const WARM_SECONDS = 60;

/** How many times as slow as the commit before it may be. */
const SLOWER = 1.1;

/** One side of the comparison. */
interface Side {
  name: string;
  servers: Child[];
  crowd: Crowd;
  /** A round each, with the milliseconds that processors worked for its servers. */
  runs: (Run & { worked: number })[];
}

/**
 * One edit to all others, ours and a stock server by turns in short rounds, with the sync time of our folder between; with a folder,
 * also the server of the commit that lies there, beside which ours is then told.
 */
export async function latency(words: Words, before?: string): Promise<void> {
  const boards = words.boards ?? 50;
  const people = words.people ?? 4;
  const rate = (words.edits ?? 400) / (boards * people);
  const rounds = words.rounds ?? 24;
  const seconds = words.seconds ?? 2;
  const nodes = words.nodes ?? 1;
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-bench-'));
  const places = nodes > 1 ? await openPlaces() : null;
  const stock = await startStock();
  const asked = { folder, ...places?.urls, roles: ['couple'] as const };
  const ours = [await startOurs({ ...asked, boards, whole: true })];
  while (ours.length < nodes) ours.push(await startOurs({ ...asked, boards: 0 }));
  const invited = ours[0]!.boards;
  const folderBefore = before && (await mkdtemp(join(tmpdir(), 'larkstep-bench-')));
  const earlier =
    folderBefore &&
    (await startOurs({ folder: folderBefore, roles: ['couple'], boards, whole: true }, before));
  const sideOf = async (name: string, servers: Child[], invited: Invited[]): Promise<Side> => {
    const seats = invited.flatMap(({ id, cookies }) =>
      Array.from({ length: people }, (_, index): Seat => {
        const { address } = servers[index % servers.length]!;
        return { address, board: id, area: 'plan', role: 'couple', cookie: cookies.couple! };
      }),
    );
    return { name, servers, crowd: await Crowd.open(seats), runs: [] };
  };
  try {
    const sides: [Side, Side, ...Side[]] = [
      await sideOf('stock', [stock], invited),
      await sideOf('ours', ours, invited),
    ];
    if (earlier) sides.push(await sideOf('before', [earlier], earlier.boards));
    const syncs: number[][] = [];
    for (const { crowd } of sides) await crowd.edit(crowd.people, rate, WARM_SECONDS);
    for (let round = 0; round < rounds; round++) {
      syncs.push(syncTimes(folder));
      // What one side leaves to be written to the disk, the next may wait for: so each comes after each other one as often.
      for (const side of inTurn(sides, round)) {
        const before = await workedBy(side.servers);
        const run = await side.crowd.edit(side.crowd.people, rate, seconds);
        side.runs.push({ ...run, worked: (await workedBy(side.servers)) - before });
      }
    }
    process.stdout.write(
      `${boards} boards x ${people} people x ${rate} edits/s, ${rounds} rounds of ${seconds} s each, ${nodes} node(s), ${load()}\n`,
    );
    report(sides, syncs, nodes > 1 ? 3 : 2);
  } finally {
    await Promise.all([stock, ...ours, ...(earlier ? [earlier] : [])].map((child) => child.kill()));
    await places?.end();
    await rm(folder, { recursive: true });
    if (folderBefore) await rm(folderBefore, { recursive: true });
  }
}

/** All of them, beginning with another one each time, forwards and backwards by turns. */
function inTurn<T>(all: readonly T[], round: number): T[] {
  const first = Math.floor(round / 2) % all.length;
  const turned = [...all.slice(first), ...all.slice(0, first)];
  return round % 2 ? turned : turned.reverse();
}

async function workedBy(servers: readonly Child[]): Promise<number> {
  const each = await Promise.all(servers.map((server) => server.worked()));
  return each.reduce((sum, worked) => sum + worked, 0);
}

/** Of a round, what is told of a side. */
const told = {
  p50: (run: Side['runs'][0]) => quantile(run.latencies, 0.5),
  p95: (run: Side['runs'][0]) => quantile(run.latencies, 0.95),
  p99: (run: Side['runs'][0]) => quantile(run.latencies, 0.99),
  processor: ({ worked, edits }: Side['runs'][0]) => worked / edits,
};

/**
 * Ours beside the commit before: the ratio of each round to its neighbour, of which the middle one is judged. Of all rounds together a
 * few stalls of the machine decide the tail, whichever side they fall into.
 */
function compare(own: Side['runs'], before: Side['runs'], pooled: (what: keyof typeof told) => number): void {
  for (const what of Object.keys(told) as (keyof typeof told)[]) {
    const ratios = own.map((run, round) => told[what](run) / told[what](before[round]!));
    const middle = quantile(ratios, 0.5);
    const [low, high] = middleOf(ratios);
    judge(
      `${what} is ${middle.toFixed(2)} of what it was (nine in ten times between ${low.toFixed(2)} and ${high.toFixed(2)}; all rounds together ${pooled(what).toFixed(2)}), at most ${SLOWER}`,
      middle <= SLOWER,
    );
  }
}

/** Between which bounds the median lies nine times in ten when rounds are drawn again (percentile bootstrap, Efron 1979). */
function middleOf(values: readonly number[]): [number, number] {
  const random = dice(1);
  const draw = () => values[Math.floor(random() * values.length)]!;
  const medians = Array.from({ length: 2000 }, () => quantile(values.map(draw), 0.5));
  return [quantile(medians, 0.05), quantile(medians, 0.95)];
}

function report(sides: readonly [Side, Side, ...Side[]], syncs: readonly number[][], factor: number): void {
  const sync = quantile(syncs.flat(), 0.5);
  const pooled = sides.map(({ name, crowd, runs }) => {
    const latencies = runs.flatMap((run) => run.latencies);
    const edits = runs.reduce((sum, run) => sum + run.edits, 0);
    const worked = runs.reduce((sum, run) => sum + run.worked, 0);
    return {
      ...{ name, edits, latencies, expected: runs.reduce((sum, run) => sum + run.expected, 0) },
      p50: quantile(latencies, 0.5),
      p95: quantile(latencies, 0.95),
      p99: quantile(latencies, 0.99),
      closed: [...crowd.refused.values()].reduce((sum, count) => sum + count, 0),
      processor: worked / edits,
    };
  });
  printTable([
    ['server', 'edits', 'seen', 'p50 ms', 'p95 ms', 'p99 ms', 'closed', 'processor ms an edit'],
    ...pooled.map(({ name, edits, latencies, p50, p95, p99, closed, processor }) => [
      ...[name, edits, latencies.length, p50, p95, p99, closed, processor],
    ]),
  ]);
  process.stdout.write(
    `fdatasync of our folder: p50 ${sync.toFixed(2)} ms, p99 ${quantile(syncs.flat(), 0.99).toFixed(2)} ms\n`,
  );
  const [theirs, own, before] = pooled as [(typeof pooled)[0], (typeof pooled)[0], (typeof pooled)[0]?];
  if (before) compare(sides[1].runs, sides[2]!.runs, (what) => own[what] / before[what]);
  for (const [name, share, times] of [
    ['p50', 0.5, factor],
    ['p99', 0.99, 3],
  ] as const) {
    const bar = times * theirs[name] + 2 * sync;
    // Each round beside its neighbour: a busy moment of the machine is in both.
    const parts = syncs.map((round, index) => {
      const [stock, ours] = sides.slice(0, 2).map(({ runs }) => quantile(runs[index]!.latencies, share));
      return ours! / (times * stock! + 2 * quantile(round, 0.5));
    });
    process.stdout.write(
      `${name} of a round as a part of its bar: half below ${quantile(parts, 0.5).toFixed(2)}, nine in ten below ${quantile(parts, 0.9).toFixed(2)}\n`,
    );
    // Of several nodes the median is asked for.
    if (name === 'p99' && factor > 2) continue;
    judge(
      `${name} ${own[name].toFixed(2)} <= ${times} x stock + 2 x fdatasync = ${bar.toFixed(2)} ms`,
      own[name] <= bar,
    );
  }
  judge(
    `every edit was seen by all others: ${own.latencies.length} of ${own.expected}`,
    own.latencies.length === own.expected,
  );
}
