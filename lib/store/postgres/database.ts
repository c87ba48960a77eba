import pg from 'pg';
import { LaterStore } from '../later.ts';
import {
  type Database,
  databaseOf,
  type Results,
  type Row,
  type Statement,
  type Value,
} from '../tables/database.ts';
import { migrations } from './schema.ts';

/** Connections a node holds at most, besides those for updates. */
const MOST_CONNECTIONS = 10;
/** Those for updates: the database syncs together what reaches it at the same time by several. */
export const UPDATE_CONNECTIONS = 4;
/** How long it may take to connect, and to hear of a statement, before the database counts as away. */
const CONNECTING_MS = 3000;
const ANSWERING_MS = 15_000;
/** How long a statement may wait for a connection: a whole party may come at once after a restart. */
const WAITING_MS = 20_000;
/** Any number of our own: of the nodes that start at once, one makes the tables. */
const MIGRATING = 4_310_015;

export class Postgres {
  readonly pool: pg.Pool;
  /** Updates have connections of their own: they wait for nobody who comes, and nobody waits for them. */
  private readonly updates: pg.Pool;
  /** As the tables see it. */
  readonly database: Database = databaseOf((statements) => this.run(statements));

  constructor(url: string) {
    this.pool = poolOf(url, MOST_CONNECTIONS, WAITING_MS);
    this.updates = poolOf(url, UPDATE_CONNECTIONS, CONNECTING_MS);
  }

  append(name: string, text: string, values: unknown[]): Promise<pg.QueryResult> {
    return this.updates.query({ name, text, values });
  }

  /** One statement, in a transaction of its own. `name` is for those that are worth preparing. */
  async query(text: string, values: unknown[], name?: string): Promise<pg.QueryResult> {
    return this.pool.query({ text, values, ...(name === undefined ? {} : { name }) });
  }

  /** All that `work` does takes effect together, and is durable when this resolves. */
  async transaction<T>(work: (client: pg.PoolClient) => Promise<T>, begin = 'BEGIN'): Promise<T> {
    const client = await this.pool.connect();
    try {
      await client.query(begin);
      const result = await work(client);
      await client.query('COMMIT');
      client.release();
      return result;
    } catch (error) {
      // Its state is not known: ending the connection undoes what it had begun.
      client.release(true);
      throw error;
    }
  }

  /** Makes the tables, or what a newer version adds to them. */
  async migrate(): Promise<void> {
    await this.transaction(async (client) => {
      await client.query('SELECT pg_advisory_xact_lock($1)', [MIGRATING]);
      await client.query('CREATE TABLE IF NOT EXISTS larkstep_version (version integer NOT NULL)');
      const found = await client.query('SELECT version FROM larkstep_version');
      const version = Number(found.rows[0]?.version ?? 0);
      if (version > migrations.length) throw new LaterStore(version, migrations.length);
      for (const sql of migrations.slice(version)) await client.query(sql);
      if (version === migrations.length) return;
      await client.query('DELETE FROM larkstep_version');
      await client.query('INSERT INTO larkstep_version VALUES ($1)', [migrations.length]);
    });
  }

  async close(): Promise<void> {
    await Promise.all([this.updates.end(), this.pool.end()]);
  }

  private async run(statements: Statement[]): Promise<Results[]> {
    if (statements.length === 0) return [];
    if (statements.length === 1) return [await execute(this.pool, statements[0]!)];
    return this.transaction(async (client) => {
      const results: Results[] = [];
      for (const one of statements) results.push(await execute(client, one));
      return results;
    });
  }
}

function poolOf(url: string, max: number, waiting: number): pg.Pool {
  const pool = new pg.Pool({
    connectionString: url,
    application_name: 'larkstep',
    // Whatever the server is set to: a commit is answered when it is on its disk.
    options: '-c synchronous_commit=on',
    max,
    connectionTimeoutMillis: waiting,
    query_timeout: ANSWERING_MS,
    keepAlive: true,
  });
  // The database ended a connection that nobody used: the next one is made when it is needed.
  pool.on('error', () => undefined);
  return pool;
}

/** One of the tables' statements. */
export async function execute(on: pg.Pool | pg.PoolClient, { sql, values }: Statement): Promise<Results> {
  const { rows, rowCount } = await on.query<Record<string, Value>>(numbered(sql), values.map(bindable));
  return { rows: rows.map(plain), changes: rowCount ?? 0 };
}

/** `?` as this database writes it. */
function numbered(sql: string): string {
  let number = 0;
  return sql.replace(/\?/g, () => `$${++number}`);
}

const bindable = (value: Value): Value => (value instanceof Uint8Array ? Buffer.from(value) : value);

const plain = (row: Record<string, Value>): Row =>
  Object.fromEntries(
    Object.entries(row).map(([name, value]) => [name, value instanceof Uint8Array ? bytesOf(value) : value]),
  );

/** Bytes without the driver's own kind of them. */
export const bytesOf = ({ buffer, byteOffset, length }: Uint8Array): Uint8Array =>
  new Uint8Array(buffer, byteOffset, length);
