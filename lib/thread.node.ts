import { Worker, type WorkerOptions } from 'node:worker_threads';

/**
 * A thread that runs a file of this checkout. In the bundle it lies, built, beside the server; from sources it is TypeScript and needs a
 * loader of its own.
 * @param source the TypeScript file
 * @param built its name beside the server
 */
export function startThread(source: URL, built: string, options: WorkerOptions): Worker {
  if (!import.meta.url.endsWith('.ts')) return new Worker(new URL(`./${built}`, import.meta.url), options);
  const url = JSON.stringify(source.href);
  const load = `import('tsx/esm/api').then(({ register }) => { register(); return import(${url}); })`;
  return new Worker(load, { ...options, eval: true, execArgv: [] });
}
