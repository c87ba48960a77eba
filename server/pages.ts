import { createServer, type Server } from 'node:http';
import { join } from 'node:path';
import { packedFiles } from './packed.ts';
import type { Pages } from './serve.ts';

/** The pages, by Next. */
export async function openPages(server: Server, dev: boolean, port: number, host: string): Promise<Pages> {
  process.env.NEXT_TELEMETRY_DISABLED = '1';
  // Only now, because it looks at NODE_ENV when it is loaded.
  const { default: next } = await import('next');
  const app = next({
    dev,
    port,
    hostname: host,
    // It adds an upgrade listener to the server it is given, and would close our sockets: one that never listens.
    httpServer: dev ? server : createServer(),
  });
  await app.prepare();
  const handle = app.getRequestHandler();
  // In development nothing is packed.
  const packed = dev ? () => false : await packedFiles(join('.next', 'static'), '/_next/static/');
  return {
    handle: async (request, response) => {
      if (!packed(request, response)) await handle(request, response);
    },
    stop: () => app.close(),
  };
}
