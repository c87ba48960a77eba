import type { Worker } from 'node:worker_threads';
import { startThread } from '../../thread.node.ts';
import { type Database, databaseOf, type Results, type Statement } from '../tables/database.ts';
import type { Opening, Reply, Request } from './request.ts';

interface Waiting {
  resolve(results: Results[]): void;
  reject(error: Error): void;
}

/** The main thread's end of the database worker. Replies come in the order of the requests. */
export class DatabaseThread {
  private readonly waiting = new Map<number, Waiting>();
  /** As the tables see it. */
  readonly database: Database = databaseOf((statements) => this.run(statements));
  private nextId = 1;
  private ended: Error | null = null;
  private closing = false;
  private opened = false;

  private constructor(
    private readonly worker: Worker,
    private readonly onLost: (error: Error) => void,
  ) {
    worker.on('message', (replies: Reply[]) => {
      for (const reply of replies) {
        const waiting = this.waiting.get(reply.id);
        this.waiting.delete(reply.id);
        if ('error' in reply)
          waiting?.reject(Object.assign(new Error(reply.error.message), { code: reply.error.code }));
        else waiting?.resolve(reply.results);
      }
    });
    worker.on('error', (error: Error) => this.end(error));
    worker.on('exit', () => this.end(new Error('The store is closed.')));
  }

  /** Resolves when the database is open and its tables are up to date. `onLost` is called when the thread dies later. */
  static async open(opening: Opening, onLost: (error: Error) => void = () => {}): Promise<DatabaseThread> {
    const source = new URL('./worker.ts', import.meta.url);
    const worker = startThread(source, 'worker.mjs', { workerData: opening });
    const thread = new DatabaseThread(worker, onLost);
    await new Promise((resolve, reject) => thread.waiting.set(0, { resolve, reject }));
    thread.opened = true;
    return thread;
  }

  /** Runs the statements together; resolves when they are durable. */
  run(statements: Statement[], alone = false): Promise<Results[]> {
    if (this.ended) return Promise.reject(this.ended);
    return new Promise((resolve, reject) => {
      const id = this.nextId++;
      this.waiting.set(id, { resolve, reject });
      this.worker.postMessage({ id, statements, alone } satisfies Request);
    });
  }

  async close(): Promise<void> {
    this.closing = true;
    const checkpoint = { sql: 'PRAGMA wal_checkpoint(TRUNCATE)', values: [] };
    await this.run([checkpoint], true).catch(() => undefined);
    await this.worker.terminate();
  }

  private end(error: Error): void {
    const lost = this.ended === null && this.opened && !this.closing;
    this.ended ??= error;
    for (const { reject } of this.waiting.values()) reject(this.ended);
    this.waiting.clear();
    if (lost) this.onLost(error);
  }
}
