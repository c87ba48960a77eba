import { readdir } from 'node:fs/promises';
import { request } from 'node:http';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { encodeWav } from '../../lib/codec/wav.ts';
import { problemBody } from '../../lib/protocol/problem.ts';
import { recordingLimits } from '../../lib/protocol/recordings.ts';
import type { Store } from '../../lib/store/store.ts';
import { audioService } from '../../server/services/audio.ts';
import { receive } from '../../server/services/receive.ts';
import { silentFlac } from '../codec/silentFlac.ts';
import { askAt } from './asking.ts';
import { type House, invite, makeBoard, openHouse } from './house.ts';

let house: House;
let board: string;
let cookie: string;
beforeAll(async () => {
  house = await openHouse();
});
beforeEach(async () => {
  board = await makeBoard(house);
  cookie = (await invite(house, board, 'couple')).cookie;
});
afterAll(() => house.end());

/** A short song of its own. */
const song = (pitch: number): Uint8Array =>
  encodeWav(
    {
      rate: 8000,
      channels: [Float32Array.from({ length: 800 }, (_, i) => Math.sin(i * pitch) / 2)],
    } as never,
    16,
  );
const send = (bytes: Uint8Array) =>
  askAt(house, `/api/boards/${board}/audio?as=couple`, { method: 'POST', cookie, body: bytes as BodyInit });
const problemOf = async (response: Response) => problemBody.parse(await response.json());

test('a board holds so many recordings and no more, the same one counts once, and the refusal says how many', async () => {
  for (let n = 1; n <= recordingLimits.most; n++) expect((await send(song(n / 50))).status).toBe(200);
  expect((await send(song(1 / 50))).status).toBe(200);
  const refused = await send(song(7));
  expect(refused.status).toBe(409);
  expect((await problemOf(refused)).sentence).toBe(
    'A board holds 12 recordings, 500 MB together, and this would be more. A new board begins empty.',
  );
  board = await makeBoard(house);
  cookie = (await invite(house, board, 'couple')).cookie;
  expect((await send(song(7))).status).toBe(200);
});

test('a small file that unpacks to hours is not kept, whatever it says of its length', async () => {
  const refused = await send(silentFlac(3000));
  expect(refused.status).toBe(413);
  expect((await problemOf(refused)).sentence).toBe(
    'This file holds more than 15 minutes of sound. Please take the song alone.',
  );
  expect(await readdir(join(house.folder, 'incoming'))).toEqual([]);
});

test('a board holds so many bytes of recordings', async () => {
  const kept = [{ id: 'x', bytes: recordingLimits.mostBytes - 1000, type: 'audio/wav' }];
  const added: unknown[] = [];
  const files = { ofBoard: async () => kept, add: async (...file: unknown[]) => void added.push(file) };
  const audio = audioService({ files } as unknown as Store, join(house.folder, 'elsewhere'));
  const stream = (bytes: Uint8Array) => new Blob([bytes as BlobPart]).stream();
  expect(await audio.keep('b', stream(song(1)))).toMatchObject({ ok: false, problem: { code: 'full' } });
  kept[0]!.bytes -= 1000;
  expect(await audio.keep('b', stream(song(1)))).toMatchObject({ ok: true });
  expect(added).toHaveLength(1);
});

test('so many uploads at once and no more, to a board and in all; a place is free again when one ends', async () => {
  const open: (() => void)[] = [];
  const slow = (to: string, as: string) => {
    const { port } = new URL(house.address);
    const path = `/api/boards/${to}/audio?as=couple`;
    const sending = request({
      port,
      path,
      method: 'POST',
      headers: { cookie: as, 'transfer-encoding': 'chunked' },
    });
    sending.on('error', () => undefined);
    sending.write('RIFF');
    open.push(() => sending.destroy());
  };
  const parts = async () =>
    (await readdir(house.folder, { recursive: true })).filter((name) => name.endsWith('.part'));
  const underWay = async (count: number) => {
    while ((await parts()).length !== count) await new Promise(setImmediate);
  };
  slow(board, cookie);
  slow(board, cookie);
  await underWay(2);
  expect(await problemOf(await send(song(1)))).toMatchObject({ code: 'busy' });
  for (let n = 0; n < 2; n++) {
    const other = await makeBoard(house);
    const as = (await invite(house, other, 'couple')).cookie;
    slow(other, as);
    slow(other, as);
  }
  await underWay(recordingLimits.atOnce);
  const third = await makeBoard(house);
  const as = (await invite(house, third, 'couple')).cookie;
  const path = `/api/boards/${third}/audio?as=couple`;
  const attempt = () => askAt(house, path, { method: 'POST', cookie: as, body: song(1) as BodyInit });
  expect((await attempt()).status).toBe(503);
  for (const stop of open) stop();
  await underWay(0);
  expect((await attempt()).status).toBe(200);
});

test('an upload that stops coming is let go, and so is one that only drips', async () => {
  const silent = new ReadableStream<Uint8Array>({ start: (on) => on.enqueue(new Uint8Array(10)) });
  const place = (name: string) => join(house.folder, name);
  expect(await receive(silent, place('one'), 20)).toMatchObject({ ok: false, problem: { code: 'too slow' } });
  let drops = 0;
  const dripping = new ReadableStream<Uint8Array>({
    async pull(on) {
      drops += 1;
      await new Promise((resolve) => setTimeout(resolve, 10));
      on.enqueue(new Uint8Array(1));
    },
  });
  expect(await receive(dripping, place('two'), 30)).toMatchObject({
    ok: false,
    problem: { code: 'too slow' },
  });
  expect(drops).toBeGreaterThan(1);
  const swift = new Blob([new Uint8Array(1_000_000)]).stream();
  expect(await receive(swift, place('three'), 1000)).toMatchObject({ ok: true, value: { size: 1_000_000 } });
});

test('only sound is kept, by what it is and not by what it is called, and is never handed out as anything else', async () => {
  const page = new TextEncoder().encode('<!doctype html><script>alert(1)</script>');
  const picture = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, ...page);
  for (const bytes of [page, picture, Uint8Array.of(0x50, 0x4b, 3, 4, ...page)])
    expect((await send(bytes)).status).toBe(415);
  // A song with a page behind it is a song.
  const both = new Uint8Array([...song(3), ...page]);
  const { id } = (await (await send(both)).json()) as { id: string };
  const file = await askAt(house, `/api/boards/${board}/audio/${id}?as=couple`, { cookie });
  expect(file.headers.get('content-type')).toBe('audio/wav');
  expect(file.headers.get('x-content-type-options')).toBe('nosniff');
  expect(file.headers.get('content-security-policy')).toContain("script-src 'self' 'nonce-");
});
