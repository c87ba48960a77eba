import { createHash, createHmac } from 'node:crypto';
import { createClient } from '@redis/client';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { hashOf, newToken } from '../../lib/access/links.ts';
import { instructorGrant } from '../../lib/access/session.ts';
import { applyChanges, readArea } from '../../lib/board/area.ts';
import { newArea } from '../../lib/board/layout.ts';
import { encodeWav } from '../../lib/codec/wav.ts';
import { areas } from '../../lib/core/areas/board.ts';
import { closings } from '../../lib/protocol/close.ts';
import { openPostgresStore } from '../../lib/store/postgres/open.ts';
import type { SharedStore } from '../../lib/store/store.ts';
import {
  clusterMissing,
  STARTING_MS,
  startPostgres,
  startRedis,
  type TestPostgres,
  type TestRedis,
} from '../kit/cluster.ts';
import { sine } from '../kit/synth.ts';
import { guest, until } from './guest.ts';
import { enterAt, joinAt, makeBoardAt, type Node, openNode, type Places } from './node.ts';

const AT = '2031-05-01T10:00:00.000Z';

describe.skipIf(clusterMissing !== null)('two nodes', { timeout: STARTING_MS }, () => {
  let postgres: TestPostgres;
  let redis: TestRedis;
  let places: Places;
  /** A look at the tables from outside. */
  let store: SharedStore;
  let [one, other]: Node[] = [];
  let board: string;
  const guests: { leave(): void }[] = [];

  beforeAll(async () => {
    [postgres, redis] = await Promise.all([startPostgres(), startRedis()]);
    places = { databaseUrl: await postgres.newDatabase(), redisUrl: redis.url };
    [one, other] = await Promise.all([openNode(places), openNode(places, { idleMs: 5 })]);
    store = await openPostgresStore(places.databaseUrl);
  }, STARTING_MS);
  afterAll(async () => {
    await Promise.all([one?.stop(), other?.stop(), store?.close()]);
    await Promise.all([postgres?.end(), redis?.stop()]);
  });
  beforeEach(async () => {
    board = await makeBoardAt(one!);
  });
  afterEach(() => {
    for (const guest of guests.splice(0)) guest.leave();
  });

  const enter: typeof enterAt = async (node, of, role, area) => {
    const entered = await enterAt(node, of, role, area);
    guests.push(entered);
    return entered;
  };
  /** What somebody would find who comes now. */
  async function kept() {
    const { updates } = await store.areas.load(board, 'lessons');
    const doc = newArea(areas.lessons);
    for (const update of updates) Y.applyUpdate(doc, update);
    return readArea(doc, areas.lessons);
  }
  const ready = (id: string) => ({ collection: 'readiness', id, fields: { level: 1, at: AT } }) as const;

  test('that start at once on an empty database make its tables and one set-up code', async () => {
    const empty = { ...places, databaseUrl: await postgres.newDatabase() };
    const nodes = await Promise.all([1, 2, 3].map(() => openNode(empty)));
    expect(new Set(nodes.map(({ running }) => running.setUpCode)).size).toBe(1);
    const made = await makeBoardAt(nodes[0]!);
    expect((await nodes[2]!.running.services.boards.read(made, 'couple')).ok).toBe(true);
    await Promise.all(nodes.map((node) => node.stop()));
  });

  test('take edits of one area at the same time, and end with one board', async () => {
    const pairs = await Promise.all(
      [one!, other!, one!, other!].map((node) => enter(node, board, 'couple', 'lessons')),
    );
    const each = 40;
    for (let edit = 1; edit <= each; edit++)
      pairs.forEach((guest, who) => {
        guest.write(ready(`${who}-${edit}`), ready('the same for all'));
      });
    await Promise.all(pairs.map((guest) => guest.sees(({ readiness }) => readiness.length === 4 * each + 1)));
    await Promise.all(pairs.map((guest) => guest.acknowledged(each + 1)));
    const [first, ...others] = pairs.map((guest) => guest.read());
    for (const read of others) expect(read).toEqual(first);
    expect(await kept()).toEqual(first);
    expect((await store.areas.load(board, 'lessons')).loose).toBe((await heads()).lessons);
  });

  const heads = async () =>
    (await store.boards.list()).find(({ id }) => id === board)!.heads as Record<string, number>;

  test('show who is at the other, also to whoever comes later, and who has left', async () => {
    const here = await enter(one!, board, 'couple', 'plan');
    here.provider.awareness.setLocalState({ user: { name: 'Ida', color: '#112233', role: 'instructor' } });
    const there = await enter(other!, board, 'dj', 'plan');
    const seen = () =>
      there.provider.awareness.getStates().get(here.doc.clientID) as { user: object } | undefined;
    const changed = (holds: () => boolean) =>
      until((look) => there.provider.awareness.on('change', look), holds);
    await changed(() => seen() !== undefined);
    expect(seen()?.user).toMatchObject({ name: 'Ida', role: 'couple' });
    here.provider.awareness.setLocalStateField('cursor', { at: 7 });
    await changed(() => (seen() as { cursor?: object })?.cursor !== undefined);
    here.provider.disconnect();
    await changed(() => seen() === undefined);
  });

  test('a song uploaded at one is read at the other, and gone with its board', async () => {
    const wav = encodeWav(sine(440, 0.5, 20, 44_100, 0, 2), 16);
    const sent = await one!.running.services.audio.keep(board, new Blob([wav as BlobPart]).stream());
    if (!sent.ok) throw new Error(sent.problem.sentence);
    const there = () => other!.running.services.audio.of(board, sent.value.id);
    const found = await there();
    if (!found.ok) throw new Error(found.problem.sentence);
    expect(found.value).toMatchObject({ bytes: wav.length, type: 'audio/wav' });
    const bytes = await new Response(found.value.read(0, wav.length - 1)).arrayBuffer();
    expect(createHash('sha256').update(new Uint8Array(bytes)).digest('hex')).toBe(sent.value.id);
    await other!.running.services.boards.remove(board);
    expect((await there()).ok).toBe(false);
    expect(await store.files.removeUnused()).toEqual([]);
  });

  test('count guesses at the passphrase together', async () => {
    const services = [one!.running.services, other!.running.services];
    const guess = async (n: number) => {
      const signedIn = await services[n % 2]!.instructor.signIn('seven wooden steps', '192.0.2.7', null);
      return signedIn.ok ? 'in' : signedIn.problem.code;
    };
    // All at once: none may slip through while the others are being counted.
    const said = await Promise.all(Array.from({ length: 20 }, (_, n) => guess(n)));
    expect(said.filter((word) => word === 'wrong passphrase')).toHaveLength(5);
    expect(said.filter((word) => word === 'too often')).toHaveLength(15);
  });

  test('a message that no node has signed is not heard', async () => {
    const writer = await enter(one!, board, 'couple', 'lessons');
    const reader = await enter(other!, board, 'couple', 'lessons');
    writer.write(ready('before'));
    await reader.sees(({ readiness }) => readiness.length === 1);
    const forged = newArea(areas.lessons);
    applyChanges(forged, areas.lessons, [ready('forged')]);
    const update = Buffer.from(Y.encodeStateAsUpdate(forged)).toString('base64');
    const number = (await heads()).lessons! + 1;
    const text = JSON.stringify({ kind: 'stored', board, area: 'lessons', number, update, claims: [] });
    const line = createClient({ url: redis.url });
    await line.connect();
    const nodes = await line.pubSubChannels('larkstep:*');
    expect(nodes).toHaveLength(2);
    for (const node of nodes)
      for (const signature of ['', createHmac('sha256', '').update(text).digest('base64')])
        expect(await line.publish(node, signature + text)).toBe(1);
    line.destroy();
    // Comes by the same channel after the forged ones.
    writer.write(ready('after'));
    await reader.sees(({ readiness }) => readiness.length >= 2);
    expect(
      reader
        .read()
        .readiness.map(({ id }) => id)
        .sort(),
    ).toEqual(['after', 'before']);
  });

  test('of two who use one client id at the same time, the store takes one and closes the other', async () => {
    const same = 77_001;
    const docs = [newArea(areas.lessons), newArea(areas.lessons)];
    const clients = await Promise.all(
      [one!, other!].map(async (node, index) => {
        docs[index]!.clientID = same;
        const { as } = await joinAt(node, board, 'couple');
        const client = guest(node, as, 'lessons', docs[index]);
        guests.push(client);
        await client.synced();
        return client;
      }),
    );
    clients.forEach((client, who) => {
      client.write(ready(`by ${who}`));
    });
    const refused = await Promise.race(
      clients.map(async (client, who) => {
        expect(await client.closed).toBe(closings.invalid.code);
        return who;
      }),
    );
    await clients[1 - refused]!.acknowledged(2);
    expect((await kept()).readiness.map(({ id }) => id)).toEqual([`by ${1 - refused}`]);
  });

  test('one writes a snapshot while the other goes on writing, and nothing is lost', async () => {
    const leaving = await enter(other!, board, 'couple', 'lessons');
    const staying = await enter(one!, board, 'couple', 'lessons');
    const each = 60;
    for (let edit = 1; edit <= each; edit++) leaving.write(ready(`gone-${edit}`));
    await leaving.acknowledged(each + 1);
    // Its room at the other node ends at once, and is long enough for a snapshot.
    leaving.leave();
    let edits = 0;
    const compacted = async () => (await store.areas.load(board, 'lessons')).loose < edits;
    do {
      staying.write(ready(`here-${++edits}`));
      await staying.acknowledged(edits + 1);
    } while (!(await compacted()));
    for (let more = 0; more < 20; more++) staying.write(ready(`here-${++edits}`));
    await staying.acknowledged(edits + 1);
    expect((await kept()).readiness).toHaveLength(each + edits);
    const fresh = await enter(other!, board, 'instructor', 'lessons');
    expect(fresh.read()).toEqual(staying.read());
  });

  test('without Redis follow some seconds late, and at once when it is back', async () => {
    const here = await enter(one!, board, 'couple', 'plan');
    const there = await enter(other!, board, 'instructor', 'plan');
    await redis.stop();
    try {
      here.write({ register: 'venue', value: 'Barn' });
      there.write({ register: 'title', value: 'First dance' });
      await Promise.all([here.acknowledged(2), there.acknowledged(2)]);
      const health = await one!.running.services.health();
      expect(health).toMatchObject({ healthy: true, parts: { nodes: 'no line between the nodes' } });
      await Promise.all([
        there.sees(({ venue }) => venue === 'Barn'),
        here.sees(({ title }) => title === 'First dance'),
      ]);
      here.write({ register: 'venue', value: 'Mill' });
    } finally {
      await redis.start();
    }
    await there.sees(({ venue }) => venue === 'Mill');
    expect(there.read()).toEqual(here.read());
  });

  /** What one does, the other follows: by messages alone, where it never looks, and by looking alone, where there is no Redis. */
  for (const way of ['by messages alone', 'by looking alone'] as const)
    describe(way, () => {
      let [here, there]: Node[] = [];
      beforeAll(async () => {
        const told = way === 'by messages alone';
        const these = { ...places, redisUrl: told ? places.redisUrl : null };
        [here, there] = await Promise.all([1, 2].map(() => openNode(these, { looks: !told })));
      });
      afterAll(() => Promise.all([here?.stop(), there?.stop()]));

      test('edits, in both directions', async () => {
        const couple = await enter(here!, board, 'couple', 'plan');
        const instructor = await enter(there!, board, 'instructor', 'plan');
        couple.write({ register: 'venue', value: 'Barn' });
        await instructor.sees(({ venue }) => venue === 'Barn');
        instructor.write({ register: 'title', value: 'First dance' });
        await couple.sees(({ title }) => title === 'First dance');
      });

      test('a link taken back closes what came by it within a second', async () => {
        const { link, as } = await joinAt(here!, board, 'planner');
        const planner = guest(there!, as, 'show');
        guests.push(planner);
        await planner.synced();
        const began = performance.now();
        await here!.running.services.links.revoke(instructorGrant(board), link);
        expect(await planner.closed).toBe(closings.revoked.code);
        expect(performance.now() - began).toBeLessThan(1000);
      });

      test('a frozen link comes back within a second and reads on, and writes again when it may', async () => {
        const { link, as } = await joinAt(here!, board, 'couple');
        const couple = guest(there!, as, 'plan');
        guests.push(couple);
        await couple.synced();
        const { links } = here!.running.services;
        for (const frozen of [true, false]) {
          const dropped = new Promise<number>((resolve) => {
            couple.provider.once('connection-close', (event) => resolve(event?.code ?? 0));
          });
          const began = performance.now();
          await links.freeze(instructorGrant(board), link, frozen);
          expect(await dropped).toBe(closings.changed.code);
          expect(performance.now() - began).toBeLessThan(1000);
          await couple.synced();
        }
        couple.write({ register: 'venue', value: 'Barn' });
        await couple.saved();
        await links.freeze(instructorGrant(board), link, true);
        await new Promise((resolve) => couple.provider.once('connection-close', resolve));
        couple.write({ register: 'venue', value: 'Mill' });
        expect(await couple.closed).toBe(closings.noRight.code);
      });

      test('a board removed sends everybody away, and nothing of it is kept', async () => {
        const couple = await enter(there!, board, 'couple', 'plan');
        await here!.running.services.boards.remove(board);
        expect(await couple.closed).toBe(closings.gone.code);
        expect(await store.areas.load(board, 'plan')).toEqual({ updates: [], head: 0, loose: 0, claims: [] });
      });

      test('an instructor who signs out is signed out within a second', async () => {
        const { instructor } = here!.running.services;
        const token = newToken();
        await store.sessions.add(hashOf(token), AT);
        await store.sessions.signIn(hashOf(token), '2999-01-01T00:00:00.000Z');
        const client = guest(there!, { board, role: 'instructor', cookie: `larkstep=${token}` }, 'plan');
        guests.push(client);
        await client.synced();
        const began = performance.now();
        await instructor.signOut(token);
        expect(await client.closed).toBe(closings.ended.code);
        expect(performance.now() - began).toBeLessThan(1000);
      });
    });
});
