import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { describe, expect, test } from 'vitest';
import { clusterMissing, STARTING_MS, startPostgres, startRedis } from '../../kit/cluster.ts';
import { guest } from '../guest.ts';
import type { Besieged, Wanted } from './besieged.ts';
import { kindsOfValue, marks, names, nested } from './corpus.ts';
import { type Attacked, attackers } from './harmless.ts';
import { sendRaw } from './raw.ts';
import { framesOf, honestEntry, idsIn, triesOf } from './siege.ts';

/**
 * Every so many of the attacks, each family by itself: all of them are tried in this process, without a kill. With
 * LARKSTEP_ATTACKS=all none is left out, which takes some minutes.
 */
const isWhole = process.env.LARKSTEP_ATTACKS === 'all';
const SHARE = isWhole ? 1 : 12;
const LONGEST_MS = isWhole ? 900_000 : 90_000;
/** Attacks at once, and links that they come by: each sends something refused a few times only. */
const AT_ONCE = 8;
const LINKS = 24;
const attacked = ['plan', 'lessons', 'remarks'] as const;
const tries = [names, kindsOfValue, marks, nested].flatMap((family) =>
  triesOf(Object.values(family).flat()).filter((_, index) => index % SHARE === 0),
);

interface Child {
  process: ChildProcess;
  said: Besieged;
  /** What it logged as an error. */
  errors: string[];
}

async function start(wanted: Wanted): Promise<Child> {
  const script = join(import.meta.dirname, 'besieged.ts');
  const child = spawn(process.execPath, ['--import', 'tsx', script, JSON.stringify(wanted)], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const errors: string[] = [];
  createInterface(child.stderr).on('line', (line) => errors.push(line));
  const ended = once(child, 'exit').then(() => [null]);
  const [line] = (await Promise.race([once(createInterface(child.stdout), 'line'), ended])) as [
    string | null,
  ];
  if (line === null) throw new Error(`it did not start: ${errors.join(' ')}`);
  return { process: child, said: JSON.parse(line) as Besieged, errors };
}

async function kill(child: Child): Promise<void> {
  const ended = once(child.process, 'exit');
  child.process.kill('SIGKILL');
  await ended;
}

/** Lists, papers and page data of the attacked board and of its neighbour, which must answer at every server. */
async function answers(port: number, { cookie, attacked, neighbour }: Besieged): Promise<string[]> {
  const asked: [string, string | undefined][] = [
    ['/health', undefined],
    ['/api/boards', cookie],
    ...[attacked, neighbour].flatMap(({ id, cookies }): [string, string | undefined][] =>
      ['board.json', 'moves.vtt', 'couple.pdf'].map((paper) => [
        `/api/boards/${id}/papers/${paper}?as=couple`,
        cookies.couple![0],
      ]),
    ),
    [`/api/boards/${attacked.id}/papers/dj.pdf?as=dj`, attacked.cookies.dj![0]],
  ];
  const wrong: string[] = [];
  for (const [path, cookie] of asked) {
    const response = await fetch(`http://127.0.0.1:${port}${path}`, { headers: cookie ? { cookie } : {} });
    const body = await response.text();
    if (response.status !== 200) wrong.push(`${path}: ${response.status} ${body.slice(0, 200)}`);
    if (path === '/health') expect(JSON.parse(body)).toMatchObject({ healthy: true });
  }
  return wrong;
}

/** Attacks servers that share a store, kills them all, and looks at what those hold that come after them. */
async function besiege(places: Omit<Wanted, 'port' | 'links'>, nodes: number): Promise<void> {
  const children = [await start({ ...places, port: 0, links: { couple: LINKS, dj: LINKS, instructor: 1 } })];
  const { said } = children[0]!;
  while (children.length < nodes) children.push(await start({ ...places, port: 0, links: null }));
  const ports = children.map((child) => child.said.port);
  const as = { board: said.attacked.id, role: 'instructor', cookie: said.attacked.cookies.instructor![0]! };
  const enter = (port: number, area: Attacked) => guest({ address: `http://127.0.0.1:${port}` }, as, area);
  const honest = ports.flatMap((port) => attacked.map((area) => ({ area, one: enter(port, area) })));
  try {
    await Promise.all(honest.map(({ one }) => one.synced()));
    const promised = new Map<Attacked, Set<string>>(attacked.map((area) => [area, new Set()]));
    const refused: number[] = [];
    const writeHonestly = async (round: string) => {
      for (const [index, { area, one }] of honest.entries()) {
        const id = `honest${round}-${index}`;
        // The membership of a link is its id, which only the server tells; a remark is left to those who attack.
        if (area === 'remarks') continue;
        one.write(honestEntry(area, id, '') as never);
        promised.get(area)!.add(id);
      }
      await Promise.all(honest.map(({ one }) => one.saved()));
    };
    for (let first = 0; first < tries.length; first += AT_ONCE) {
      const these = tries.slice(first, first + AT_ONCE);
      await Promise.all(
        these.map(async ({ attack, way }, index) => {
          const number = first + index;
          const { area } = attack;
          const role = attackers[area];
          const cookie = said.attacked.cookies[role]![number % LINKS]!;
          const id = `harmless${number}`;
          const frames = framesOf(attack, way, id, '', 2 ** 32 - 1 - number);
          const seat = { port: ports[number % nodes]!, board: as.board, area, role, cookie };
          const { acknowledged, code } = await sendRaw(seat, frames).catch((error: Error) => {
            throw new Error(`${area}: ${attack.name} (${way}): ${error.message}`);
          });
          if (acknowledged > 0) promised.get(area)!.add(id);
          if (code !== null) refused.push(code);
        }),
      );
      await writeHonestly(`${first}`);
    }
    expect(refused.length).toBeGreaterThan(tries.length / 2);
    expect(refused.filter((code) => code < 4400 || code > 4499)).toEqual([]);
    for (const port of ports) expect(await answers(port, said)).toEqual([]);

    await Promise.all(children.map(kill));
    const ends = await Promise.all(ports.map((port) => start({ ...places, port, links: null })));
    children.splice(0, nodes, ...ends);
    for (const port of ports) expect(await answers(port, said)).toEqual([]);
    // They come back by themselves, with what they hold.
    await writeHonestly('again');
    for (const port of ports)
      for (const area of attacked) {
        const fresh = enter(port, area);
        await fresh.synced();
        const kept = idsIn(fresh.doc, area);
        expect([...promised.get(area)!].filter((id) => !kept.has(id))).toEqual([]);
        const now = JSON.stringify(fresh.read());
        fresh.leave();
        for (const { one } of honest.filter((other) => other.area === area))
          await one.sees((data) => JSON.stringify(data) === now);
      }
    expect(children.flatMap(({ errors }) => errors)).toEqual([]);
  } finally {
    for (const { one } of honest) one.leave();
    await Promise.all(children.map((child) => child.process.exitCode === null && kill(child)));
  }
}

test(
  'attacked, killed and started again on its folder, it has all that anybody saw acknowledged',
  async () => {
    const folder = await mkdtemp(join(tmpdir(), 'larkstep-besieged-'));
    try {
      await besiege({ folder }, 1);
    } finally {
      await rm(folder, { recursive: true });
    }
  },
  LONGEST_MS,
);

describe.skipIf(clusterMissing !== null)('two nodes', () => {
  test(
    'attacked, killed and started again, have all that anybody saw acknowledged',
    async () => {
      const [postgres, redis] = await Promise.all([startPostgres(), startRedis()]);
      try {
        const databaseUrl = await postgres.newDatabase();
        await besiege({ folder: tmpdir(), databaseUrl, redisUrl: redis.url }, 2);
      } finally {
        await redis.stop();
        await postgres.end();
      }
    },
    Math.max(STARTING_MS, LONGEST_MS),
  );
});
