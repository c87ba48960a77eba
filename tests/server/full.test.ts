import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm, statfs, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { expect, test } from 'vitest';
import { encodeWav } from '../../lib/codec/wav.ts';
import { closings } from '../../lib/protocol/close.ts';
import { lockFolder } from '../../lib/store/embedded/lock.ts';
import { song } from '../command/songs.ts';
import { guest } from './guest.ts';
import { invite, makeBoard, openHouse } from './house.ts';

/** util-linux: sets how large a running process may let files grow, which a full disk looks like to it. */
const hasLimits = spawnSync('prlimit', ['--version']).status === 0;

test.skipIf(!hasLimits)(
  'with no room left, a change is not acknowledged, health says so, and all goes on when there is room again (needs prlimit)',
  async () => {
    const folder = await mkdtemp(join(tmpdir(), 'larkstep-full-'));
    const script = join(import.meta.dirname, 'victim.ts');
    const server = spawn(process.execPath, ['--import', 'tsx', script, folder], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    const [line] = (await once(createInterface(server.stdout), 'line')) as [string];
    const { port, board, cookie } = JSON.parse(line) as { port: number; board: string; cookie: string };
    const largest = (bytes: string) =>
      spawnSync('prlimit', ['--pid', String(server.pid), `--fsize=${bytes}:`]);
    const address = `http://127.0.0.1:${port}`;
    const health = async () => {
      const response = await fetch(`${address}/health`);
      return { status: response.status, ...((await response.json()) as { store: string }) };
    };
    const as = { board, role: 'couple', cookie };
    const [one, other] = [guest({ address }, as, 'plan'), guest({ address }, as, 'plan')];
    await Promise.all([one.synced(), other.synced()]);
    one.write({ register: 'venue', value: 'Barn' });
    await one.acknowledged(2);

    expect(largest('4096').status).toBe(0);
    const codes = new Promise<number>((resolve) => {
      one.provider.on('connection-close', (event) => resolve(event?.code ?? 0));
    });
    one.write({ register: 'venue', value: 'Mill' });
    expect(await codes).toBe(closings.failed.code);
    expect(other.read().venue).toBe('Barn');
    let said = await health();
    while (said.status === 200) said = await health();
    expect(said).toMatchObject({ status: 503, healthy: false, store: 'fails' });

    expect(largest('unlimited').status).toBe(0);
    await other.sees(({ venue }) => venue === 'Mill');
    await one.acknowledged(1);
    while (said.status !== 200) said = await health();
    expect(said).toMatchObject({ healthy: true, store: 'fine' });
    one.leave();
    other.leave();
    server.kill();
    await rm(folder, { recursive: true });
  },
  60_000,
);

/** A disk of a few megabytes, in memory; null where this account may make none. */
async function smallDisk(): Promise<string | null> {
  const place = await mkdtemp(join(tmpdir(), 'larkstep-disk-'));
  if (spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=12m', 'tmpfs', place]).status === 0) return place;
  await rm(place, { recursive: true });
  return null;
}
const disk = await smallDisk();

test.skipIf(disk === null)(
  'on a full disk every way into the server is answered with one sentence, and nothing is half done (needs the right to mount)',
  async () => {
    const before = process.env.TMPDIR;
    process.env.TMPDIR = disk!;
    const house = await openHouse();
    try {
      const { setUpCode } = house.running;
      const post = (path: string, body: BodyInit | object, cookie = '') =>
        fetch(house.address + path, {
          method: 'POST',
          body: body instanceof Blob ? body : JSON.stringify(body),
          headers: { cookie, origin: house.address },
        });
      const passphrase = 'ten words of a dance';
      const setUp = await post('/api/set-up', { code: setUpCode, name: 'Marta', passphrase });
      const studio = setUp.headers.get('set-cookie')!.split(';')[0]!;
      const board = await makeBoard(house);
      const couple = await invite(house, board, 'couple');
      const boards = async () => (await house.running.services.boards.read(board, 'couple')).ok;

      // First a file of zeros, then the last bytes one by one.
      const { bavail, bsize } = await statfs(disk!);
      await writeFile(join(disk!, 'filler'), new Uint8Array(bavail * bsize));
      const make = { one: 'Ida', other: 'Tomas', date: null, venue: 'x'.repeat(100) };
      // What the database has room for in the pages it holds already is taken.
      let answer = await post('/api/boards', make, studio);
      for (let tries = 0; answer.ok && tries < 2000; tries++)
        answer = await post('/api/boards', make, studio);
      const sentence =
        'The server’s disk is full: nothing was changed. Whoever runs the server must make room.';
      const ways: [string, Promise<Response>][] = [
        ['a board', post('/api/boards', make, studio)],
        ['a link', post(`/api/boards/${board}/links?as=instructor`, { role: 'dj', days: null }, studio)],
        [
          'an upload',
          post(
            `/api/boards/${board}/audio?as=couple`,
            new Blob([encodeWav(song.samples, 16) as BlobPart]),
            couple.cookie,
          ),
        ],
        ['signing in', post('/api/sign-in', { passphrase })],
        ['the calendar', post(`/api/boards/${board}/calendar?as=couple`, {}, couple.cookie)],
      ];
      for (const [way, answered] of ways) {
        const response = await answered;
        expect([way, response.status, await response.json()]).toEqual([
          ...[way, 507, { code: 'disk full', sentence }],
        ]);
      }
      const joined = await fetch(`${house.address}/join/${couple.token}`, {
        headers: { accept: 'text/html' },
        redirect: 'manual',
      });
      expect(joined.headers.get('location')).toBe('/?why=disk%20full');
      expect(await boards()).toBe(true);
      // Nobody holds this folder: there is only no room to say so.
      expect(() => lockFolder(join(disk!, 'another'))).toThrow(/full|ENOSPC/);

      await rm(join(disk!, 'filler'));
      expect((await post('/api/boards', make, studio)).status).toBe(200);
      expect(
        (await post(`/api/boards/${board}/links?as=instructor`, { role: 'dj', days: null }, studio)).status,
      ).toBe(200);
    } finally {
      await house.end();
      if (before === undefined) delete process.env.TMPDIR;
      else process.env.TMPDIR = before;
      spawnSync('umount', [disk!]);
      await rm(disk!, { recursive: true });
    }
  },
  60_000,
);
