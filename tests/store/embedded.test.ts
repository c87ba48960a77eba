import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { DATABASE, openEmbeddedStore } from '../../lib/store/embedded/open.ts';
import { statement } from '../../lib/store/tables/database.ts';
import { storeContract } from '../contracts/store.contract.ts';

const BY = { membership: 'm', at: '2031-05-01T10:00:00.000Z' };

async function embedded() {
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-store-'));
  let store = await openEmbeddedStore(folder);
  return {
    folder,
    store,
    async reopen() {
      await store.close();
      store = await openEmbeddedStore(folder);
      return store;
    },
    async end() {
      await store.close();
      await rm(folder, { recursive: true });
    },
  };
}

storeContract('embedded', embedded);

test('a value that would end the process is refused before it gets there', () => {
  for (const value of [true, undefined, new Date(), Number.NaN])
    expect(() => statement('SELECT ?', value as never)).toThrow(TypeError);
});

test('a backup taken in use opens as a store of its own', async () => {
  const { folder, store, end } = await embedded();
  await store.boards.add('b1', '2031-05-01T10:00:00.000Z', [{ area: 'plan', update: Uint8Array.of(1) }]);
  await mkdir(join(folder, 'copy'));
  await store.backup(join(folder, 'copy', DATABASE));
  await store.areas.append('b1', 'plan', Uint8Array.of(2), [], BY);
  const copy = await openEmbeddedStore(join(folder, 'copy'));
  expect((await copy.areas.load('b1', 'plan')).updates).toEqual([Uint8Array.of(1)]);
  await copy.close();
  await end();
});
