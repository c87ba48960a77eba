import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { createServer, type IncomingHttpHeaders, request, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { text } from 'node:stream/consumers';
import { brotliCompressSync, createBrotliDecompress } from 'node:zlib';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { packedFiles } from '../../server/packed.ts';

const SCRIPT = 'console.log("lark, lark, lark, lark, step");\n'.repeat(40);
let folder: string;
let server: Server;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'larkstep-packed-'));
  await mkdir(join(folder, 'chunks'));
  await writeFile(join(folder, 'chunks', 'a.js.br'), brotliCompressSync(SCRIPT));
  await writeFile(join(folder, 'chunks', 'b.js'), SCRIPT);
  await writeFile(join(folder, 'secret.txt.br'), brotliCompressSync('no program'));
  const packed = await packedFiles(folder, '/files/');
  server = createServer((asked, answer) => {
    if (!packed(asked, answer)) answer.end('left to the page renderer');
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
});
afterAll(async () => {
  server.close();
  await rm(folder, { recursive: true });
});

/** By node's own client, which unpacks nothing by itself. */
const ask = (path: string, accepts: string | null, method = 'GET') =>
  new Promise<{ headers: IncomingHttpHeaders; body: string }>((resolve, reject) => {
    const { port } = server.address() as AddressInfo;
    const headers = accepts === null ? {} : { 'accept-encoding': accepts };
    request({ port, path, method, headers, host: '127.0.0.1' }, (answer) => {
      const isPacked = answer.headers['content-encoding'] === 'br' && method !== 'HEAD';
      text(isPacked ? answer.pipe(createBrotliDecompress()) : answer).then(
        (body) => resolve({ headers: answer.headers, body }),
        reject,
      );
    })
      .once('error', reject)
      .end();
  });

test.each(['br', 'gzip, deflate, br, zstd', 'gzip;q=0.5, BR;q=0.9'])(
  'a program file goes out as it was packed to whoever accepts %s',
  async (accepts) => {
    const { headers, body } = await ask('/files/chunks/a.js?v=1', accepts);
    expect(body).toBe(SCRIPT);
    expect(headers).toMatchObject({
      'content-encoding': 'br',
      'content-type': 'application/javascript; charset=UTF-8',
      'content-length': String(brotliCompressSync(SCRIPT).length),
      vary: 'Accept-Encoding',
      'cache-control': 'public, max-age=31536000, immutable',
    });
  },
);

test('asked for its head alone, no more is sent', async () => {
  const { headers, body } = await ask('/files/chunks/a.js', 'br', 'HEAD');
  expect([headers['content-encoding'], body]).toEqual(['br', '']);
});

test.each<[string, string, string | null, string]>([
  ['to who says nothing', '/files/chunks/a.js', null, 'GET'],
  ['to who takes another form', '/files/chunks/a.js', 'gzip, brr', 'GET'],
  ['to who refuses this one', '/files/chunks/a.js', 'gzip, br;q=0.0', 'GET'],
  ['of what is not packed', '/files/chunks/b.js', 'br', 'GET'],
  ['of what is no program', '/files/secret.txt', 'br', 'GET'],
  ['of a folder', '/files/chunks/', 'br', 'GET'],
  ['to who writes', '/files/chunks/a.js', 'br', 'POST'],
])('nothing goes out packed %s', async (_, path, accepts, method) => {
  expect((await ask(path, accepts, method)).body).toBe('left to the page renderer');
});

test('a build without packed files is served by the page renderer alone', async () => {
  const packed = await packedFiles(join(folder, 'none'), '/files/');
  expect(packed({ method: 'GET', url: '/files/a.js', headers: {} } as never, {} as never)).toBe(false);
});
