import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'libsql';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { DATABASE, openEmbeddedStore } from '../../lib/store/embedded/open.ts';
import { tables } from '../../lib/store/postgres/copy.ts';
import { openPostgresStore } from '../../lib/store/postgres/open.ts';
import { storeContract } from '../contracts/store.contract.ts';
import { clusterMissing, STARTING_MS, startPostgres, type TestPostgres } from '../kit/cluster.ts';

const BY = { membership: 'm', at: '2031-05-01T10:00:00.000Z' };

describe.skipIf(clusterMissing !== null)('in PostgreSQL', { timeout: STARTING_MS }, () => {
  let postgres: TestPostgres;
  let contractUrl: string;
  beforeAll(async () => {
    postgres = await startPostgres();
    contractUrl = await postgres.newDatabase();
  }, STARTING_MS);
  afterAll(() => postgres.end());

  storeContract('PostgreSQL', async () => {
    // Emptied each time, because a new database takes most of a second.
    const url = contractUrl;
    let store = await openPostgresStore(url);
    await query(url, 'TRUNCATE boards, sessions, files, settings, attempts CASCADE');
    return {
      store,
      async reopen() {
        await store.close();
        store = await openPostgresStore(url);
        return store;
      },
      end: () => store.close(),
    };
  });

  test('attempts of all nodes fill one vessel, which leaks', async () => {
    const url = await postgres.newDatabase();
    const [one, other] = await Promise.all([openPostgresStore(url), openPostgresStore(url)]);
    const measure = { atOnce: 3, secondsEach: 10 };
    const take = (store: typeof one, longest = 0) => store!.attempts.take('a', measure, longest);
    /** Lets time pass, or sets the database's clock back: what was noted is moved the other way. */
    const later = (seconds: number) => query(url, `UPDATE attempts SET at = at - ${seconds * 1000}`);
    expect([await take(one), await take(other), await take(one)]).toEqual([0, 0, 0]);
    expect(await take(other)).toBeNull();
    await later(5);
    expect(await take(other)).toBeNull();
    await later(5.1);
    expect(await take(other)).toBe(0);
    // Past its few one waits, where waiting is allowed.
    expect(await take(one, 20)).toBeCloseTo(9.9, 0);
    expect(await one.attempts.take('b', measure, 0)).toBe(0);
    // A clock that is set back by an hour keeps nobody waiting; one that is off by a moment empties nothing.
    await later(-1);
    expect(await take(one)).toBeNull();
    await later(-3600);
    expect(await take(one)).toBe(0);
    await later(3601);
    await one.sweep({ now: new Date().toISOString(), linksBefore: '', sessionsBefore: '' });
    expect([await take(one), await take(one), await take(one)]).toEqual([0, 0, 0]);
    expect(await take(one)).toBeNull();
    await Promise.all([one.close(), other.close()]);
  });

  test('it is told which links may no more, or may again, and no other', async () => {
    const store = await openPostgresStore(await postgres.newDatabase());
    await store.boards.add('b1', BY.at, []);
    const link = {
      board: 'b1',
      role: 'dj',
      madeAt: BY.at,
      endsAt: null,
      revokedAt: null,
      parent: null,
    } as const;
    for (const [id, frozenAt] of Object.entries({ free: null, stopped: BY.at, still: BY.at, thawed: null }))
      await store.links.add({ ...link, id, hash: id, frozenAt });
    const open = {
      boards: ['b1', 'gone'],
      links: ['free', 'stopped', 'gone'],
      frozen: ['still', 'thawed', 'gone'],
      sessions: ['gone'],
    };
    const ended = await store.ended(open);
    expect(ended).toEqual({
      boards: ['gone'],
      // Asked for once as one that may write, and once as one that may not.
      links: ['gone', 'gone'],
      frozen: ['stopped', 'thawed'],
      sessions: ['gone'],
    });
    await store.close();
  });

  test('of 200 updates at two nodes at once, each has a number of its own', async () => {
    const url = await postgres.newDatabase();
    const stores = await Promise.all([openPostgresStore(url), openPostgresStore(url)]);
    await stores[0]!.boards.add('b1', '2031-05-01T10:00:00.000Z', []);
    const names = ['plan', 'show', 'lessons'] as const;
    const numbers = await Promise.all(
      Array.from({ length: 200 }, async (_, n) => {
        const area = names[n % 3]!;
        const claims = n % 7 === 0 ? [{ client: n, membership: 'm' }] : [];
        return { area, number: await stores[n % 2]!.areas.append('b1', area, Uint8Array.of(n), claims, BY) };
      }),
    );
    for (const area of names) {
      const given = numbers.flatMap((one) => (one.area === area ? [one.number] : []));
      expect(given.sort((a, b) => a - b)).toEqual(given.map((_, index) => index + 1));
      const { head, loose } = await stores[1]!.areas.load('b1', area);
      expect([head, loose]).toEqual([given.length, given.length]);
    }
    await Promise.all(stores.map((store) => store.close()));
  });

  test('what builds on a refused update is not stored either, and other areas go on', async () => {
    const url = await postgres.newDatabase();
    const store = await openPostgresStore(url);
    await store.boards.add('b1', '2031-05-01T10:00:00.000Z', []);
    await store.areas.append('b1', 'plan', Uint8Array.of(0), [{ client: 1, membership: 'first' }], BY);
    const taken = [{ client: 1, membership: 'second' }];
    const settled = await Promise.allSettled([
      store.areas.append('b1', 'plan', Uint8Array.of(1), [], BY),
      store.areas.append('b1', 'plan', Uint8Array.of(2), taken, BY),
      store.areas.append('b1', 'show', Uint8Array.of(1), [], BY),
      store.areas.append('b1', 'plan', Uint8Array.of(3), [], BY),
      store.areas.append('b1', 'show', Uint8Array.of(2), [{ client: 1, membership: 'second' }], BY),
      store.areas.append('gone', 'plan', Uint8Array.of(1), [], BY),
      store.areas.append('b1', 'show', Uint8Array.of(3), [], BY),
    ]);
    expect(settled.map(({ status }) => status === 'fulfilled')).toEqual([
      ...[true, false, true, false, true, false, true],
    ]);
    expect((await store.areas.load('b1', 'plan')).updates).toEqual([Uint8Array.of(0), Uint8Array.of(1)]);
    expect((await store.areas.load('b1', 'show')).updates).toHaveLength(3);
    // Whoever has loaded what is kept goes on from there.
    expect(await store.areas.append('b1', 'plan', Uint8Array.of(4), [], BY)).toBe(3);
    await store.close();
  });

  test('an area that has to wait keeps its order, and others do not wait for it', async () => {
    const url = await postgres.newDatabase();
    const store = await openPostgresStore(url);
    await store.boards.add('b1', '2031-05-01T10:00:00.000Z', []);
    await store.areas.append('b1', 'plan', Uint8Array.of(0), [], BY);
    const holding = new pg.Client({ connectionString: url });
    await holding.connect();
    await holding.query("BEGIN; SELECT FROM areas WHERE board = 'b1' AND area = 'plan' FOR UPDATE");
    let held = true;
    const waiting = [1, 2, 3].map(async (value) => {
      const number = await store.areas.append('b1', 'plan', Uint8Array.of(value), [], BY);
      return { number, held };
    });
    // What is asked for in the same step would go together.
    await Promise.resolve();
    for (const value of [1, 2, 3])
      expect(await store.areas.append('b1', 'show', Uint8Array.of(value), [], BY)).toBe(value);
    held = false;
    await holding.query('COMMIT');
    await holding.end();
    expect(await Promise.all(waiting)).toEqual([2, 3, 4].map((number) => ({ number, held: false })));
    expect((await store.areas.load('b1', 'plan')).updates).toEqual(
      [0, 1, 2, 3].map((value) => Uint8Array.of(value)),
    );
    await store.close();
  });

  test('a snapshot that says more than is stored, or less than another, takes nothing away', async () => {
    const url = await postgres.newDatabase();
    const store = await openPostgresStore(url);
    await store.boards.add('b1', '2031-05-01T10:00:00.000Z', []);
    for (const value of [1, 2, 3]) await store.areas.append('b1', 'plan', Uint8Array.of(value), [], BY);
    await store.areas.compact('b1', 'plan', 9, Uint8Array.of(99));
    expect((await store.areas.load('b1', 'plan')).updates).toHaveLength(3);
    await store.areas.compact('b1', 'plan', 2, Uint8Array.of(12));
    await store.areas.compact('b1', 'plan', 1, Uint8Array.of(11));
    expect((await store.areas.load('b1', 'plan')).updates).toEqual([Uint8Array.of(12), Uint8Array.of(3)]);
    await store.close();
  });

  test('what is copied from one store to the other is every column of every table', async () => {
    const listed = tables.flatMap(({ name, columns }) => columns.map((column) => `${name}.${column}`)).sort();
    const folder = await mkdtemp(join(tmpdir(), 'larkstep-columns-'));
    await (await openEmbeddedStore(folder)).close();
    const embedded = new Database(join(folder, DATABASE), { readonly: true });
    const inFolder = embedded
      .prepare(`SELECT m.name || '.' || c.name AS place FROM sqlite_master m JOIN pragma_table_info(m.name) c
                WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite_%'`)
      .all([]) as { place: string }[];
    embedded.close();
    await rm(folder, { recursive: true });
    expect(inFolder.map(({ place }) => place).sort()).toEqual(listed);
    await (await openPostgresStore(contractUrl)).close();
    const inDatabase = await query(
      contractUrl,
      "SELECT table_name || '.' || column_name AS place FROM information_schema.columns WHERE table_schema = 'public'",
    );
    // The pieces of a file are copied as a file; a claim's number only serves those who follow; attempts are soon forgotten.
    const own = /^(pieces|attempts|larkstep_version)\.|^claims\.number$/;
    const shared = inDatabase.map(({ place }) => String(place)).filter((place) => !own.test(place));
    expect(shared.sort()).toEqual(listed);
  });

  test('a database of a newer version is left alone', async () => {
    const url = await postgres.newDatabase();
    await (await openPostgresStore(url)).close();
    await query(url, 'UPDATE larkstep_version SET version = 999');
    await expect(openPostgresStore(url)).rejects.toThrow('made by a newer Larkstep (tables of version 999');
  });
});

async function query(url: string, sql: string): Promise<Record<string, unknown>[]> {
  const client = new pg.Client(url);
  await client.connect();
  const { rows } = await client.query(sql);
  await client.end();
  return rows;
}
