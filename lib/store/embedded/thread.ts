import { Worker } from 'node:worker_threads';
import type { Reply, Request, Row, Statement } from './statement.ts';

interface Waiting {
  resolve(results: { rows: Row[]; changes: number }[]): void;
  reject(error: Error): void;
}

/** The main thread's end of the database worker. Replies come in the order of the requests. */
export class DatabaseThread {
  private readonly waiting = new Map<number, Waiting>();
  private nextId = 1;
  private ended: Error | null = null;

  private constructor(private readonly worker: Worker) {
    worker.on('message', (reply: Reply) => {
      const waiting = this.waiting.get(reply.id);
      this.waiting.delete(reply.id);
      if ('error' in reply) waiting?.reject(new Error(reply.error));
      else waiting?.resolve(reply.results);
    });
    worker.on('error', (error: Error) => this.end(error));
    worker.on('exit', () => this.end(new Error('The store is closed.')));
  }

  /** Resolves when the database is open and its tables are up to date. */
  static async open(file: string): Promise<DatabaseThread> {
    const worker = startWorker(file);
    const thread = new DatabaseThread(worker);
    await new Promise((resolve, reject) => thread.waiting.set(0, { resolve, reject }));
    return thread;
  }

  /** Runs the statements together; resolves when they are durable. */
  run(statements: Statement[], alone = false): Promise<{ rows: Row[]; changes: number }[]> {
    if (this.ended) return Promise.reject(this.ended);
    return new Promise((resolve, reject) => {
      const id = this.nextId++;
      this.waiting.set(id, { resolve, reject });
      this.worker.postMessage({ id, statements, alone } satisfies Request);
    });
  }

  async rows(query: Statement): Promise<Row[]> {
    return (await this.run([query]))[0]!.rows;
  }

  async row(query: Statement): Promise<Row | null> {
    return (await this.rows(query))[0] ?? null;
  }

  /** Number of rows that the last of the statements changed. */
  async change(...statements: Statement[]): Promise<number> {
    return (await this.run(statements)).at(-1)!.changes;
  }

  async close(): Promise<void> {
    const checkpoint = { sql: 'PRAGMA wal_checkpoint(TRUNCATE)', values: [] };
    await this.run([checkpoint], true).catch(() => undefined);
    await this.worker.terminate();
  }

  private end(error: Error): void {
    this.ended ??= error;
    for (const { reject } of this.waiting.values()) reject(this.ended);
    this.waiting.clear();
  }
}

/** In the bundle the worker lies beside the server; from a checkout it is TypeScript and needs a loader of its own. */
function startWorker(file: string): Worker {
  const options = { workerData: { file } };
  if (!import.meta.url.endsWith('.ts')) return new Worker(new URL('./worker.mjs', import.meta.url), options);
  const url = JSON.stringify(new URL('./worker.ts', import.meta.url).href);
  const load = `import('tsx/esm/api').then(({ register }) => { register(); return import(${url}); })`;
  return new Worker(load, { ...options, eval: true, execArgv: [] });
}
