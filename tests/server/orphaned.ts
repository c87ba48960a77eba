import { Worker } from 'node:worker_threads';
import { endWith } from '../../server/ending.ts';
import { serve } from '../../server/serve.ts';

/** A server in a process of its own whose store's thread is ended from outside, as by a fault in the driver. */
const threads = new Set<Worker>();
const { postMessage } = Worker.prototype;
Worker.prototype.postMessage = function (this: Worker, ...words: Parameters<typeof postMessage>) {
  threads.add(this);
  return postMessage.apply(this, words);
};

const started = await serve({
  folder: process.argv[2]!,
  port: 0,
  host: '127.0.0.1',
  origin: null,
  dev: false,
  log: { info: () => undefined, error: () => undefined },
  onLost: endWith,
  openPages: async () => ({ handle: async () => undefined, stop: async () => undefined }),
});
if (!started.ok) throw new Error(started.problem.sentence);
process.stdout.write('started\n');
for (const thread of threads) void thread.terminate();
