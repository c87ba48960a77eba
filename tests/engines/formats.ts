import { once } from 'node:events';
import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { buildSync } from 'esbuild';
import { aacProgram } from '../../lib/codec/aac.node.ts';
import { decode, LIMITS } from '../../lib/codec/decode.ts';
import { bytesOf, keptFiles, pathOf } from '../codec/files/all.ts';
import type { Driver } from './driver.ts';

/** How one file was decoded in an engine, beside node. */
export interface FormatRow {
  file: string;
  /** Why it was not; null where it was. */
  problem: string | null;
  samples: number;
  /** Samples more than in node. */
  longer: number;
  /** The largest difference of a sample, full scale being 1. */
  apart: number;
  ms: number;
}

const OPTIONS = { limits: { ...LIMITS, least: 0 } };
const root = join(import.meta.dirname, '..', '..');

/** The decoding of the pages' worker in a Worker of its own, and a page that hands it files and gives back what came out. */
const PAGE = `<!doctype html><title>formats</title><script>
  const worker = new Worker('/worker.js');
  window.decodeFile = (name) => new Promise((done) => {
    worker.onmessage = ({ data }) => done(data);
    worker.onerror = ({ message }) => done({ problem: 'the worker failed: ' + message });
    worker.postMessage(name);
  });
</script>`;
const WORKER = `
  import { decode, LIMITS } from './lib/codec/decode.ts';
  const aac = async () => (await fetch('/aac.wasm')).arrayBuffer();
  self.onmessage = async ({ data: name }) => {
    const bytes = new Uint8Array(await (await fetch('/files/' + name)).arrayBuffer());
    const began = performance.now();
    const done = await decode(bytes, { limits: { ...LIMITS, least: 0 }, aac });
    const ms = performance.now() - began;
    if (!done.ok) return self.postMessage({ problem: done.problem.sentence });
    const { rate, samples: { channels } } = done.value;
    await fetch('/samples', { method: 'POST', body: new Blob(channels) });
    self.postMessage({ problem: null, rate, channels: channels.length, ms });
  };`;

/** Decodes every kept file in the engine, and compares with node to the sample. */
export async function decodedAlike(driver: Driver): Promise<FormatRow[]> {
  const { outputFiles } = buildSync({
    stdin: { contents: WORKER, resolveDir: root, loader: 'ts' },
    bundle: true,
    write: false,
    format: 'iife',
    target: 'es2022',
  });
  let posted = Buffer.alloc(0);
  const server = createServer(async (request, response) => {
    const path = request.url ?? '/';
    const answer = async (): Promise<[type: string, body: string | Uint8Array]> => {
      if (path === '/worker.js') return ['text/javascript', outputFiles[0]!.contents];
      if (path === '/aac.wasm') return ['application/wasm', (await aacProgram()) as Uint8Array];
      if (path.startsWith('/files/'))
        return ['application/octet-stream', await readFile(pathOf(path.slice(7)))];
      if (path !== '/samples') return ['text/html', PAGE];
      const parts: Buffer[] = [];
      for await (const part of request) parts.push(part as Buffer);
      posted = Buffer.concat(parts);
      return ['text/plain', ''];
    };
    const [type, body] = await answer();
    response.writeHead(200, { 'content-type': type }).end(body);
  }).listen(0, '127.0.0.1');
  await once(server, 'listening');
  try {
    await driver.open(`http://127.0.0.1:${(server.address() as AddressInfo).port}/`);
    const rows: FormatRow[] = [];
    for (const { name } of keptFiles) {
      const told = (await driver.run('(name) => window.decodeFile(name)', [name])) as {
        problem: string | null;
        ms: number;
      };
      const mine = await decode(await bytesOf(name), { ...OPTIONS, aac: aacProgram });
      if (!mine.ok) throw new Error(`${name}: ${mine.problem.sentence}`);
      const { channels } = mine.value.samples;
      const row = {
        file: name,
        problem: told.problem,
        samples: channels[0]!.length,
        longer: 0,
        apart: 0,
        ms: told.ms ?? 0,
      };
      if (told.problem === null) {
        const theirs = new Float32Array(
          posted.buffer.slice(posted.byteOffset, posted.byteOffset + posted.byteLength),
        );
        row.longer = theirs.length / channels.length - row.samples;
        for (const [c, channel] of channels.entries())
          for (let i = 0; i < channel.length; i++)
            row.apart = Math.max(row.apart, Math.abs(channel[i]! - (theirs[c * channel.length + i] ?? 9)));
      }
      rows.push(row);
    }
    return rows;
  } finally {
    server.closeAllConnections();
    server.close();
  }
}
