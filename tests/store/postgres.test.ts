import { afterAll, beforeAll, describe } from 'vitest';
import { openPostgresStore } from '../../lib/store/postgres/open.ts';
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
});
