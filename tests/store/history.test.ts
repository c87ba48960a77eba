import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { areaTable } from '../../lib/store/embedded/boards.ts';
import { DATABASE, openEmbeddedStore } from '../../lib/store/embedded/open.ts';
import { DatabaseThread } from '../../lib/store/embedded/thread.ts';
import type { EmbeddedStore } from '../../lib/store/store.ts';
import { databaseOf } from '../../lib/store/tables/database.ts';
import { HISTORY, unwanted } from '../../lib/store/tables/history.ts';

const BY = { membership: 'm', at: '2031-05-01T10:00:00.000Z' };
let folder: string;
let store: EmbeddedStore;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'larkstep-history-'));
  store = await openEmbeddedStore(folder);
  await store.boards.add('b1', BY.at, []);
});
afterEach(async () => {
  await store.close();
  await rm(folder, { recursive: true });
});
const bytes = (...values: number[]) => Uint8Array.from(values);

test('a snapshot that is read back otherwise than it was written is taken back, and nothing is let go of', async () => {
  for (const value of [1, 2, 3]) await store.areas.append('b1', 'plan', bytes(value), [], BY);
  await store.areas.compact('b1', 'plan', 1, bytes(11));
  const thread = await DatabaseThread.open({ file: join(folder, DATABASE), serving: false });
  const bent = databaseOf(async (statements) => {
    const results = await thread.run(statements);
    for (const { rows } of results)
      for (const row of rows) if (row.snapshot instanceof Uint8Array) row.snapshot = bytes(99);
    return results;
  });
  await expect(areaTable(bent).compact('b1', 'plan', 3, bytes(13))).rejects.toThrow('not read back');
  await thread.close();
  expect((await store.areas.load('b1', 'plan')).updates).toEqual([bytes(11), bytes(2), bytes(3)]);
  expect(await store.areas.writings('b1', 'plan', '')).toHaveLength(3);
});

test(`of a log, ${HISTORY.rows} updates and ${HISTORY.bytes >> 20} MB stay at most`, async () => {
  const rows = HISTORY.rows + 100;
  const numbers = await Promise.all(
    Array.from({ length: rows }, () => store.areas.append('b1', 'plan', bytes(1), [], BY)),
  );
  await store.areas.compact('b1', 'plan', numbers.at(-1)!, bytes(1));
  const kept = await store.areas.writings('b1', 'plan', '');
  expect([kept.length, kept[0]?.number]).toEqual([HISTORY.rows, 101]);
  const large = new Uint8Array(1_000_000);
  for (let count = 0; count < 20; count++) await store.areas.append('b1', 'show', large, [], BY);
  await store.areas.compact('b1', 'show', 20, bytes(1));
  expect(await store.areas.writings('b1', 'show', '')).toHaveLength(16);
});

test('of earlier snapshots, one an hour stays for a day, then one a day, and no more than there is space for', () => {
  const now = Date.parse('2031-05-20T12:00:00.000Z');
  const base = (through: number, at: string, bytes = 1) => ({ through, at: `2031-${at}:00.000Z`, bytes });
  const bases = [
    base(1, '04-19T10:00'),
    base(2, '05-10T10:00'),
    base(3, '05-10T18:00'),
    base(4, '05-20T10:10'),
    base(5, '05-20T10:20'),
    base(6, '05-20T11:20'),
  ];
  expect(unwanted(bases, now).map(({ through }) => through)).toEqual([1, 3, 5]);
  const large = bases.map((one) => ({ ...one, bytes: 12 << 20 }));
  expect(unwanted(large, now).map(({ through }) => through)).toEqual([1, 2, 3, 5]);
});
