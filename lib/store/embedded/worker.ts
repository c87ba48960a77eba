import { statfsSync } from 'node:fs';
import { dirname } from 'node:path';
import { type MessagePort, parentPort, receiveMessageOnPort, workerData } from 'node:worker_threads';
import Database from 'libsql';
import { LaterStore } from '../later.ts';
import type { Results, Row, Value } from '../tables/database.ts';
import type { Failure, Opening, Reply, Request } from './request.ts';
import { migrations } from './schema.ts';

/**
 * The thread that owns the database. Requests that wait are run in one transaction, each of several statements in a savepoint of
 * its own, and answered after the commit: one fsync for many (group commit), and nothing is answered before it is durable.
 */
const LARGEST_GROUP = 500;
const ENDED: Failure = { message: 'The transaction has ended.', code: undefined };
/**
 * Pages of 4 KB written to the log until they are taken over into the tables, while everybody waits: more than the usual 1000,
 * because a page that was written many times is taken over once.
 */
const CHECKPOINT_PAGES = 8000;
/** The database's own default (sqlite.org/pgszchng2016.html). */
const PAGE_BYTES = 4096;
/** With less than this left on the disk the log is not laid out: what it took would be missing elsewhere. */
const ROOM = 16 * CHECKPOINT_PAGES * PAGE_BYTES;

const port = parentPort as MessagePort;
const { file, serving } = workerData as Opening;
const db = new Database(file);
db.exec(`PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON;
  PRAGMA busy_timeout = 5000; PRAGMA wal_autocheckpoint = ${CHECKPOINT_PAGES}`);
const statements = new Map<string, ReturnType<typeof db.prepare>>();
migrate();
if (serving) layOutLog();
port.on('message', (first: Request) => {
  const group = [first];
  while (group.length < LARGEST_GROUP) {
    const next = receiveMessageOnPort(port) as { message: Request } | undefined;
    if (next === undefined) break;
    group.push(next.message);
  }
  port.postMessage(run(group));
});
port.postMessage([{ id: 0, results: [] }] satisfies Reply[]);

function migrate(): void {
  const { user_version: version } = db.prepare('PRAGMA user_version').get([]) as { user_version: number };
  if (version > migrations.length) throw new LaterStore(version, migrations.length);
  migrations.slice(version).forEach((sql, index) => {
    db.exec(`BEGIN; ${sql}; PRAGMA user_version = ${version + index + 1}; COMMIT`);
  });
}

/**
 * Writes the log once to the length that it keeps between two checkpoints, and takes that back. To sync what overwrites a file costs
 * less than to sync what lengthens it: the file system has nothing to note besides.
 */
function layOutLog(): void {
  try {
    const { bavail, bsize } = statfsSync(dirname(file));
    if (bavail * bsize < ROOM) return;
    const filler = CHECKPOINT_PAGES * PAGE_BYTES;
    db.exec(`BEGIN; CREATE TABLE filler (bytes BLOB); INSERT INTO filler VALUES (zeroblob(${filler}))`);
  } catch {
    // Such as a full disk: then the log grows as it is written.
  }
  if (db.inTransaction) db.exec('ROLLBACK');
}

function run(group: Request[]): Reply[] {
  const replies: Reply[] = [];
  let open: Reply[] = [];
  const failAll = (reason: Failure) => {
    if (db.inTransaction) db.exec('ROLLBACK');
    replies.push(...open.map(({ id }) => ({ id, error: reason })));
    open = [];
  };
  const commit = () => {
    if (open.length === 0) return;
    const error = control('COMMIT');
    if (error !== null) return failAll(error);
    replies.push(...open);
    open = [];
  };
  for (const request of group) {
    // One statement is a transaction by itself.
    const isOne = request.statements.length === 1;
    if (request.alone || (isOne && group.length === 1)) {
      commit();
      replies.push(attempt(request));
      continue;
    }
    const error =
      (open.length === 0 ? control('BEGIN IMMEDIATE') : null) ??
      (isOne ? null : control('SAVEPOINT request'));
    const reply = error === null ? attempt(request) : { id: request.id, error };
    open.push(reply);
    const undoing = 'error' in reply && !isOne ? control('ROLLBACK TO request') : null;
    const ending = undoing ?? (isOne ? null : control('RELEASE request'));
    // A full disk ends the whole transaction, not only the statement: then nothing of the group has happened.
    if (ending !== null || !db.inTransaction) failAll('error' in reply ? reply.error : (ending ?? ENDED));
  }
  commit();
  return replies;
}

/** What was wrong, or null. */
function control(sql: string): Failure | null {
  try {
    execute(sql, []);
    return null;
  } catch (error) {
    return failureOf(error);
  }
}

function attempt({ id, statements: wanted }: Request): Reply {
  try {
    return { id, results: wanted.map(({ sql, values }) => execute(sql, values)) };
  } catch (error) {
    return { id, error: failureOf(error) };
  }
}

function execute(sql: string, values: Value[]): Results {
  const prepared = statements.get(sql) ?? db.prepare(sql);
  statements.set(sql, prepared);
  if (!prepared.reader) return { rows: [], changes: prepared.run(values).changes };
  return { rows: (prepared.all(values) as Record<string, Value | ArrayBuffer>[]).map(plain), changes: 0 };
}

/** The driver gives a blob as an ArrayBuffer. */
function plain(row: Record<string, Value | ArrayBuffer>): Row {
  return Object.fromEntries(
    Object.entries(row).map(([name, value]) => [
      name,
      value instanceof ArrayBuffer ? new Uint8Array(value) : value,
    ]),
  );
}

function failureOf(error: unknown): Failure {
  const { message = String(error), code } = Object(error) as { message?: string; code?: unknown };
  return { message, code: typeof code === 'string' ? code : undefined };
}
