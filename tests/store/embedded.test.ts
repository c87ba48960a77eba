import { chmod, mkdir, mkdtemp, rm, stat } from 'node:fs/promises';
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

test('in a folder that others may enter, only its owner reads what is kept', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-open-'));
  await chmod(folder, 0o755);
  const modeOf = async (name: string) => (await stat(join(folder, name))).mode & 0o777;
  const first = await openEmbeddedStore(folder);
  await first.settings.set('k', 'v');
  const database = ['larkstep.db', 'larkstep.db-wal', 'larkstep.db-shm'];
  for (const name of database) expect(await modeOf(name), name).toBe(0o600);
  await first.close();
  // As versions before left it.
  await mkdir(join(folder, 'files'), { mode: 0o755 });
  await chmod(join(folder, 'larkstep.db'), 0o644);
  const again = await openEmbeddedStore(folder);
  await again.settings.set('k', 'w');
  for (const name of database) expect(await modeOf(name), name).toBe(0o600);
  expect(await modeOf('files')).toBe(0o700);
  await again.close();
  await rm(folder, { recursive: true });
});
