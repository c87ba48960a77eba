import pg from 'pg';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openPostgresStore } from '../../lib/store/postgres/open.ts';
import { ClaimTaken } from '../../lib/store/store.ts';
import { storeContract } from '../contracts/store.contract.ts';
import { clusterMissing, startPostgres, type TestPostgres } from '../kit/cluster.ts';

describe.skipIf(clusterMissing !== null)('in PostgreSQL', () => {
  let postgres: TestPostgres;
  beforeAll(async () => {
    postgres = await startPostgres();
  });
  afterAll(() => postgres.end());

  storeContract('PostgreSQL', async () => {
    const url = await postgres.newDatabase();
    let store = await openPostgresStore(url);
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
    const take = (store: typeof one, seconds: number, longest = 0) =>
      store!.attempts.take('a', measure, longest, seconds * 1000);
    expect([await take(one, 0), await take(other, 0), await take(one, 0)]).toEqual([0, 0, 0]);
    expect(await take(other, 0)).toBeNull();
    expect(await take(other, 9.9)).toBeNull();
    expect(await take(other, 10.1)).toBe(0);
    // Past its few one waits, where waiting is allowed.
    expect(await take(one, 10.1, 20)).toBeCloseTo(9.9);
    expect(await one.attempts.take('b', measure, 0, 0)).toBe(0);
    const sweep = { now: new Date(5_000_000).toISOString(), linksBefore: '', sessionsBefore: '' };
    await one.sweep(sweep);
    expect([await take(one, 0), await take(one, 0), await take(one, 0)]).toEqual([0, 0, 0]);
    await Promise.all([one.close(), other.close()]);
  });

  test('of 200 updates at two nodes at once, each has a number of its own, and a refused one none', async () => {
    const url = await postgres.newDatabase();
    const stores = await Promise.all([openPostgresStore(url), openPostgresStore(url)]);
    await stores[0]!.boards.add('b1', '2031-05-01T10:00:00.000Z', []);
    await stores[0]!.areas.append('b1', 'plan', Uint8Array.of(0), [{ client: 1, membership: 'first' }]);
    const claims = (n: number) => [
      { client: n % 10 === 0 ? 1 : n, membership: n % 10 === 0 ? 'second' : 'first' },
    ];
    const numbers = await Promise.all(
      Array.from({ length: 200 }, (_, n) =>
        stores[n % 2]!.areas.append(
          'b1',
          n % 3 === 0 ? 'show' : 'plan',
          Uint8Array.of(n),
          n % 3 === 0 ? [] : claims(n),
        ).then(
          (number) => ({ area: n % 3 === 0 ? 'show' : 'plan', number }),
          (error: unknown) => {
            expect(error).toBeInstanceOf(ClaimTaken);
            return null;
          },
        ),
      ),
    );
    for (const area of ['plan', 'show'] as const) {
      const given = numbers.flatMap((one) => (one?.area === area ? [one.number] : [])).sort((a, b) => a - b);
      const first = area === 'plan' ? 2 : 1;
      expect(given).toEqual(given.map((_, index) => first + index));
      const { head, loose } = await stores[1]!.areas.load('b1', area);
      expect([head, loose]).toEqual([given.at(-1), given.length + first - 1]);
    }
    expect(numbers.filter((one) => one === null)).toHaveLength(13);
    await Promise.all(stores.map((store) => store.close()));
  });

  test('a snapshot that says more than is stored, or less than another, takes nothing away', async () => {
    const url = await postgres.newDatabase();
    const store = await openPostgresStore(url);
    await store.boards.add('b1', '2031-05-01T10:00:00.000Z', []);
    for (const value of [1, 2, 3]) await store.areas.append('b1', 'plan', Uint8Array.of(value), []);
    await store.areas.compact('b1', 'plan', 9, Uint8Array.of(99));
    expect((await store.areas.load('b1', 'plan')).updates).toHaveLength(3);
    await store.areas.compact('b1', 'plan', 2, Uint8Array.of(12));
    await store.areas.compact('b1', 'plan', 1, Uint8Array.of(11));
    expect((await store.areas.load('b1', 'plan')).updates).toEqual([Uint8Array.of(12), Uint8Array.of(3)]);
    await store.close();
  });

  test('a database of a newer version is left alone', async () => {
    const url = await postgres.newDatabase();
    await (await openPostgresStore(url)).close();
    const client = new pg.Client(url);
    await client.connect();
    await client.query('UPDATE larkstep_version SET version = 999');
    await client.end();
    await expect(openPostgresStore(url)).rejects.toThrow('a newer version of Larkstep (999)');
  });
});
