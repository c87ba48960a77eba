import { readdir, readFile } from 'node:fs/promises';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { extname, join, sep } from 'node:path';

/** Ending of what the build packs beside a file (server/setup.mjs): Brotli, RFC 7932. */
const PACKED = '.br';
const TYPES: Record<string, string> = {
  '.js': 'application/javascript; charset=UTF-8',
  '.css': 'text/css; charset=UTF-8',
};

/** Answers a request for a file that lies packed, and says whether it did. */
export type Packed = (request: IncomingMessage, response: ServerResponse) => boolean;

/**
 * Program files as the build packed them, an eighth smaller than what is packed while somebody waits. They are kept in memory,
 * 2 MB in all; a browser that does not take them so is left to the page renderer.
 * @param folder what lies under `at`
 */
export async function packedFiles(folder: string, at: string): Promise<Packed> {
  const names = await readdir(folder, { recursive: true }).catch(() => []);
  const files = new Map<string, { type: string; body: Buffer }>();
  for (const name of names) {
    const plain = name.slice(0, -PACKED.length);
    const type = TYPES[extname(plain)];
    if (!name.endsWith(PACKED) || !type) continue;
    files.set(at + plain.split(sep).join('/'), { type, body: await readFile(join(folder, name)) });
  }
  return ({ method, url = '', headers }, response) => {
    const file = files.get(url.split('?', 1)[0]!);
    if (!file || (method !== 'GET' && method !== 'HEAD')) return false;
    if (!takesBrotli(headers['accept-encoding'])) return false;
    response.writeHead(200, {
      'Content-Type': file.type,
      'Content-Encoding': 'br',
      'Content-Length': file.body.length,
      Vary: 'Accept-Encoding',
      // A file is named by what it holds.
      'Cache-Control': 'public, max-age=31536000, immutable',
    });
    response.end(method === 'HEAD' ? undefined : file.body);
    return true;
  };
}

/** RFC 9110, section 12.5.3: named, and not with the weight 0. */
const takesBrotli = (accepted: string | string[] = ''): boolean =>
  String(accepted)
    .split(',')
    .map((each) => each.toLowerCase().replaceAll(/\s/g, ''))
    .some((each) => /^br(;|$)/.test(each) && !/;q=0(\.0*)?$/.test(each));
