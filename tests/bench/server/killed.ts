import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import * as Y from 'yjs';
import { newArea } from '../../../lib/board/layout.ts';
import { areas } from '../../../lib/core/areas/board.ts';
import { openEmbeddedStore } from '../../../lib/store/embedded/open.ts';
import { openPostgresStore } from '../../../lib/store/postgres/open.ts';
import type { Store } from '../../../lib/store/store.ts';
import { startOurs } from './children.ts';
import { openPlaces, type Urls } from './cluster.ts';
import { Crowd, wait } from './crowd.ts';
import { judge, load, printTable } from './figures.ts';
import type { Words } from './words.ts';

interface Outcome {
  acknowledged: number;
  seen: number;
  lostAcknowledged: number;
  lostSeen: number;
}

/** A server killed again and again while people write, on the same store: what it acknowledged or sent on must be there. */
export async function killed(words: Words): Promise<void> {
  const boards = words.boards ?? 50;
  const people = words.people ?? 4;
  const edits = words.edits ?? 200;
  const kills = words.kills ?? 50;
  const nodes = words.nodes ?? 1;
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-bench-'));
  const places = nodes > 1 ? await openPlaces() : null;
  const asked = { folder, ...places?.urls, roles: ['couple'] as const };
  const outcomes: Outcome[] = [];
  const started = [await startOurs({ ...asked, boards, whole: true })];
  const invited = started[0]!.boards;
  try {
    for (let kill = 0; kill < kills; kill++) {
      while (started.length < nodes) started.push(await startOurs({ ...asked, boards: 0 }));
      const crowd = await Crowd.open(
        invited.flatMap(({ id, cookies }) =>
          Array.from({ length: people }, (_, index) => ({
            address: started[index % nodes]!.address,
            board: id,
            area: 'plan' as const,
            role: 'couple' as const,
            cookie: cookies.couple!,
          })),
        ),
      );
      crowd.begin(crowd.people, edits / (boards * people));
      // In the midst of it, however slow the machine is.
      while (crowd.promised().count < edits / 4) await wait(50);
      await wait(1000 * Math.random());
      // Of several nodes one, each in its turn; the others go on.
      const [victim] = started.splice(kill % nodes, 1);
      await victim!.kill();
      // At another node people go on for a moment.
      if (nodes > 1) await wait(300);
      crowd.stop();
      await crowd.leave();
      outcomes.push(await compare(crowd, invited, folder, places?.urls ?? null));
      if (started.length < nodes) started.push(await startOurs({ ...asked, boards: 0 }));
    }
  } finally {
    await Promise.all(started.map((child) => child.kill()));
    await places?.end();
    await rm(folder, { recursive: true });
  }
  const sum = (of: (outcome: Outcome) => number) =>
    outcomes.reduce((total, outcome) => total + of(outcome), 0);
  process.stdout.write(
    `${kills} kills at ${edits} edits/s, ${boards} boards x ${people} people, ${nodes} node(s), ${load()}\n`,
  );
  printTable([
    ['promise', 'edits', 'lost'],
    [
      'acknowledged',
      sum(({ acknowledged }) => acknowledged),
      sum(({ lostAcknowledged }) => lostAcknowledged),
    ],
    ['seen by another', sum(({ seen }) => seen), sum(({ lostSeen }) => lostSeen)],
  ]);
  const lost = sum(({ lostAcknowledged, lostSeen }) => lostAcknowledged + lostSeen);
  const fewest = Math.min(...outcomes.map(({ acknowledged }) => acknowledged));
  judge(`nothing is lost (the fewest acknowledged before a kill: ${fewest})`, lost === 0 && fewest > 0);
}

/** Clients whose last promised edit is not in what is stored; an edit is there when all before it of that client are. */
async function compare(
  crowd: Crowd,
  invited: readonly { id: string }[],
  folder: string,
  urls: Urls | null,
): Promise<Outcome> {
  const store = await open(folder, urls);
  const kept = new Map<number, number>();
  for (const { id } of invited) {
    const doc = newArea(areas.plan);
    for (const update of (await store.areas.load(id, 'plan')).updates) Y.applyUpdate(doc, update);
    for (const [client, clock] of Y.decodeStateVector(Y.encodeStateVector(doc))) kept.set(client, clock);
    doc.destroy();
  }
  await store.close();
  const lost = (promised: Map<number, number>) =>
    [...promised].filter(([client, clock]) => (kept.get(client) ?? 0) <= clock).length;
  const promised = crowd.promised();
  return {
    acknowledged: promised.count,
    seen: crowd.seenCount,
    lostAcknowledged: lost(promised.clocks),
    lostSeen: lost(crowd.seen),
  };
}

async function open(folder: string, urls: Urls | null): Promise<Store> {
  if (!urls) return openEmbeddedStore(folder);
  return openPostgresStore(urls.databaseUrl);
}
