import type { Worker } from 'node:worker_threads';
import type { Services } from '../../lib/access/services.ts';
import { bad, good, type Result } from '../../lib/core/result.ts';
import type { MadePaper } from '../../lib/export/papers.ts';
import type { PaperReply, PaperRequest } from '../../lib/export/worker.ts';
import { startThread } from '../../lib/thread.node.ts';
import { instantOf } from '../../lib/zone/dayIn.ts';
import type { Log } from '../log.ts';

/** Papers that wait, of one link and of all. A sheet takes some 200 ms. */
const MOST_OF_LINK = 12;
const MOST_OF_ALL = 60;
/** Longest that one may take, and how long the thread stays when there is nothing to do. */
const LONGEST_MS = 30_000;
const IDLE_MS = 60_000;
/** Megabytes that it may take: a hundred is usual. */
const MOST_MEMORY = 512;

export const BUSY = bad('busy', 'Many papers are being made just now. Please try again in a minute.');
const FAILED = bad('busy', 'This paper could not be made just now. Please try again.');

type Asked = Parameters<Services['papers']['make']>;
type Made = Result<MadePaper>;

interface Job {
  key: string;
  asked: Asked;
  made: Promise<Made>;
  settle(made: Made): void;
}

/**
 * Makes one paper after the other, of each link in turn. Who asks for one that waits already is given the same; of one that is
 * being made that would be wrong, because something may have been written since it was read.
 */
export class PaperQueue {
  /** By whose they are, the next one first. */
  private readonly waiting = new Map<string, Job[]>();
  private readonly byKey = new Map<string, Job>();
  private isMaking = false;

  constructor(private readonly makeOne: (...asked: Asked) => Promise<Made>) {}

  readonly make = (...asked: Asked): Promise<Made> => {
    const [{ board, role, root }, paper, { size, clock }] = asked;
    const key = [board, role, paper, size, clock].join(' ');
    const same = this.byKey.get(key);
    if (same) return same.made;
    const own = this.waiting.get(root) ?? [];
    if (own.length >= MOST_OF_LINK || this.byKey.size >= MOST_OF_ALL) return Promise.resolve(BUSY);
    let settle: Job['settle'] = () => undefined;
    const made = new Promise<Made>((resolve) => {
      settle = resolve;
    });
    const job = { key, asked, made, settle };
    this.waiting.set(root, [...own, job]);
    this.byKey.set(key, job);
    if (!this.isMaking) void this.makeAll();
    return made;
  };

  private async makeAll(): Promise<void> {
    this.isMaking = true;
    for (let job = this.next(); job; job = this.next())
      job.settle(await this.makeOne(...job.asked).catch(() => FAILED));
    this.isMaking = false;
  }

  /** Whose turn it was comes after all others. */
  private next(): Job | undefined {
    const [first] = this.waiting;
    if (!first) return undefined;
    const [root, [job, ...rest]] = first;
    this.waiting.delete(root);
    if (rest.length > 0) this.waiting.set(root, rest);
    if (job) this.byKey.delete(job.key);
    return job;
  }
}

/** The thread that makes them; started when the first is asked for, and anew when it has died. */
class PaperThread {
  private worker: Worker | null = null;
  private idle: NodeJS.Timeout | null = null;

  make(request: PaperRequest): Promise<PaperReply> {
    if (this.idle) clearTimeout(this.idle);
    const worker = this.worker ?? this.start();
    return new Promise((resolve) => {
      const late = setTimeout(() => end({ failed: 'it took too long' }), LONGEST_MS);
      const onDead = (error: unknown) => end({ failed: `its thread ended: ${String(error)}` });
      const onReply = (reply: PaperReply) => end(reply);
      const end = (reply: PaperReply) => {
        clearTimeout(late);
        worker.off('message', onReply).off('error', onDead).off('exit', onDead);
        if ('failed' in reply) void this.stop();
        else this.idle = setTimeout(() => void this.stop(), IDLE_MS).unref();
        resolve(reply);
      };
      worker.on('message', onReply).on('error', onDead).on('exit', onDead);
      worker.postMessage(request);
    });
  }

  async stop(): Promise<void> {
    if (this.idle) clearTimeout(this.idle);
    const { worker } = this;
    this.worker = null;
    await worker?.terminate();
  }

  private start(): Worker {
    const source = new URL('../../lib/export/worker.ts', import.meta.url);
    const worker = startThread(source, 'papers.mjs', {
      resourceLimits: { maxOldGenerationSizeMb: MOST_MEMORY },
    });
    worker.unref();
    // One that dies while nothing is asked of it is started anew by the next.
    worker.on('error', () => undefined);
    worker.once('exit', () => {
      if (this.worker === worker) this.worker = null;
    });
    this.worker = worker;
    return worker;
  }
}

export function paperService(
  boards: Pick<Services['boards'], 'read'>,
  clock: () => Date,
  log: Log,
): { papers: Services['papers']; stop(): Promise<void> } {
  const thread = new PaperThread();
  const queue = new PaperQueue(async ({ board: id, role }, paper, wish) => {
    const board = await boards.read(id, role);
    if (!board.ok) return board;
    const reply = await thread.make({
      paper,
      board: board.value,
      about: { id, at: instantOf(clock()) },
      wish,
    });
    if ('bytes' in reply) return good(reply);
    if ('problem' in reply) return { ok: false, problem: reply.problem };
    log.error('a paper was not made', { paper, reason: reply.failed });
    return FAILED;
  });
  return { papers: { make: queue.make }, stop: () => thread.stop() };
}
