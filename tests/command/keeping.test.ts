import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { link, mkdir, readdir, readFile, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import Database from 'libsql';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { encodeWav } from '../../lib/codec/wav.ts';
import { closings } from '../../lib/protocol/close.ts';
import { lockFolder } from '../../lib/store/embedded/lock.ts';
import { openEmbeddedStore } from '../../lib/store/embedded/open.ts';
import { run } from '../../server/command/run.ts';
import { openControl } from '../../server/control.ts';
import { askAt, setUpStudio } from '../server/asking.ts';
import { guest } from '../server/guest.ts';
import { makeBoard, openHouse } from '../server/house.ts';
import { answerOf, newFolder, song } from './songs.ts';

/** Links, backup and restore, on a store of their own, with a server running and without. */
let folder: Awaited<ReturnType<typeof newFolder>>;
let data: string;
const before = process.env.LARKSTEP_DATA;

beforeEach(async () => {
  folder = await newFolder();
  data = folder.path('data');
  process.env.LARKSTEP_DATA = data;
});
afterEach(async () => {
  if (before === undefined) delete process.env.LARKSTEP_DATA;
  else process.env.LARKSTEP_DATA = before;
  await folder.remove();
});

const audio = new TextEncoder().encode('stands for a recording');
const id = createHash('sha256').update(audio).digest('hex');

/** A store with a board in it, and a file. */
async function keepSomething(board: string): Promise<void> {
  const store = await openEmbeddedStore(data);
  await store.boards.add(board, '2027-01-01T00:00:00.000Z', []);
  await store.close();
  await mkdir(join(data, 'files'), { recursive: true });
  await writeFile(join(data, 'files', id), audio);
}
async function boards(): Promise<string[]> {
  const store = await openEmbeddedStore(data);
  const list = await store.boards.list();
  await store.close();
  return list.map((board) => board.id);
}

it('makes a link, of which only the hash is kept', async () => {
  await keepSomething('board-one');
  const { url } = (await answerOf('links', 'board-one', '--role', 'dj', '--days', '7')) as { url: string };
  const token = /\/join\/([\w-]+)$/.exec(url)![1]!;
  const store = await openEmbeddedStore(data);
  const links = await store.links.of('board-one');
  await store.close();
  expect(links).toMatchObject([{ role: 'dj', board: 'board-one' }]);
  expect(JSON.stringify(links)).not.toContain(token);
  expect(Date.parse(links[0]!.endsAt!) - Date.parse(links[0]!.madeAt)).toBe(7 * 86_400_000);
});

it('makes no link to a board that is not there', async () => {
  await keepSomething('board-one');
  expect(await run(['links', 'board-two', '--role', 'dj'])).toMatchObject({
    code: 2,
    line: 'There is no board board-two.',
  });
});

it('brings back what a backup holds, and sets aside what was there', async () => {
  await keepSomething('board-one');
  const file = folder.path('kept.tar');
  expect(await answerOf('backup', file)).toEqual({ file, audioFiles: 1 });
  // Read by a program that is not ours (POSIX tar).
  const listed = spawnSync('tar', ['-tf', file], { encoding: 'utf8' });
  expect(listed.stdout.trim().split('\n')).toEqual(['larkstep.db', `files/${id}`]);
  await keepSomething('board-two');
  const { before: aside } = (await answerOf('restore', file)) as { before: string };
  expect(await boards()).toEqual(['board-one']);
  expect(await readFile(join(data, 'files', id))).toEqual(Buffer.from(audio));
  expect((await readFile(join(aside, 'larkstep.db'))).length).toBeGreaterThan(0);
});

it('writes a backup over another file only when asked, over one that it keeps never', async () => {
  await keepSomething('board-one');
  const file = folder.path('kept.tar');
  await writeFile(file, 'old');
  expect(await run(['backup', file])).toMatchObject({
    code: 2,
    line: expect.stringContaining('--overwrite'),
  });
  expect(await readFile(file, 'utf8')).toBe('old');
  await answerOf('backup', file, '--overwrite');
  expect((await stat(file)).mode & 0o077).toBe(0);
  await link(join(data, 'files', id), folder.path('audio.tar'));
  for (const kept of [join(data, 'larkstep.db'), join(data, 'files', id), folder.path('audio.tar')]) {
    expect(await run(['backup', kept, '--overwrite'])).toMatchObject({
      code: 2,
      line: expect.stringContaining('never written over'),
    });
  }
  expect(await readdir(folder.path(''))).toEqual(['audio.tar', 'data', 'kept.tar']);
  expect((await readdir(data)).filter((name) => name.startsWith('copy-'))).toEqual([]);
  await answerOf('restore', file);
  expect(await boards()).toEqual(['board-one']);
});

it('makes no folder for a link or a restore that cannot be', async () => {
  for (const words of [
    ['links', 'board-one', '--role', 'dj'],
    ['backup', folder.path('kept.tar')],
    ['restore', folder.path('missing.tar')],
  ])
    expect(await run(words)).toMatchObject({ code: 2 });
  expect(await readdir(folder.path(''))).toEqual([]);
});

it('says what the database says of a folder that holds no boards, with 2', async () => {
  await mkdir(data);
  await writeFile(join(data, 'larkstep.db'), 'These are words, and no database at all.'.repeat(40));
  for (const words of [
    ['links', 'board-one', '--role', 'dj'],
    ['backup', folder.path('kept.tar')],
  ])
    expect(await run(words)).toMatchObject({ code: 2, line: expect.stringMatching(/^\S+: .+\.$/) });
  expect(await readdir(folder.path(''))).toEqual(['data']);
});

it('restores from no backup that is damaged', async () => {
  await keepSomething('board-one');
  const file = folder.path('kept.tar');
  await answerOf('backup', file);
  const bytes = await readFile(file);
  // Half of it, and all but the two empty blocks that end it.
  for (const length of [bytes.length / 2, bytes.length - 1024, 100]) {
    await writeFile(file, bytes.subarray(0, length));
    expect(await run(['restore', file])).toMatchObject({
      code: 2,
      line: expect.stringContaining('ends too early'),
    });
  }
  expect(await boards()).toEqual(['board-one']);
});

it('asks the running server, and refuses to restore under it', async () => {
  await keepSomething('board-one');
  const file = folder.path('kept.tar');
  await answerOf('backup', file);
  const lock = lockFolder(data)!;
  const asked: unknown[] = [];
  const close = await openControl(data, {
    link: async (...words) => {
      asked.push(words);
      return { ok: true, value: 'http://here/join/token' };
    },
    backup: async (copy) => {
      asked.push('backup');
      await writeFile(copy, 'a copy');
      return { ok: true, value: copy };
    },
    passphrase: async (name) => {
      asked.push(name);
      return { ok: true, value: 'words' };
    },
  });
  try {
    expect(await answerOf('links', 'board-one', '--role', 'couple')).toMatchObject({
      url: 'http://here/join/token',
    });
    await answerOf('backup', folder.path('other.tar'));
    expect(await answerOf('passphrase', '--name', ' Rosa ')).toEqual({ passphrase: 'words' });
    expect(asked).toEqual([['board-one', 'couple', null], 'backup', 'Rosa']);
    expect(await run(['restore', file])).toMatchObject({
      code: 2,
      line: expect.stringContaining('stop it first'),
    });
  } finally {
    await close();
    lock.release();
  }
});

it('says of what a newer Larkstep made which way leads back, with 2', async () => {
  await keepSomething('board-one');
  const database = new Database(join(data, 'larkstep.db'));
  database.exec('PRAGMA user_version = 999');
  database.close();
  expect(await run(['links', 'board-one', '--role', 'dj'])).toMatchObject({
    code: 2,
    line: expect.stringMatching(
      /made by a newer Larkstep .+: run that version, or restore a backup made before\.$/,
    ),
  });
});

it('makes a link through the real server, which opens the board at once', async () => {
  const house = await openHouse();
  try {
    process.env.LARKSTEP_DATA = house.folder;
    const board = await makeBoard(house);
    const long = 'x'.repeat(100);
    expect(await run(['links', long, '--role', 'dj'])).toMatchObject({
      code: 2,
      line: `There is no board ${long}.`,
    });
    const { url } = (await answerOf('links', board, '--role', 'planner')) as { url: string };
    const joined = await fetch(url, { headers: { accept: 'text/html' }, redirect: 'manual' });
    expect(joined.headers.get('location')).toBe(`/board/${board}?as=planner`);
    expect(await answerOf('backup', folder.path('running.tar'))).toMatchObject({ audioFiles: 0 });
  } finally {
    await house.end();
  }
});

it('makes a new passphrase through the real server, which signs out at once who is signed in', async () => {
  const house = await openHouse();
  try {
    process.env.LARKSTEP_DATA = house.folder;
    expect(await run(['passphrase'])).toMatchObject({
      code: 2,
      line: expect.stringContaining('say --name NAME'),
    });
    const before = await setUpStudio(house);
    const board = await makeBoard(house);
    const open = guest(house, { board, role: 'instructor', cookie: before }, 'plan');
    await open.synced();
    const { passphrase } = (await answerOf('passphrase')) as { passphrase: string };
    expect(await open.closed).toBe(closings.ended.code);
    open.leave();
    const mayList = async (cookie: string) => (await askAt(house, '/api/boards', { cookie })).status === 200;
    expect(await mayList(before)).toBe(false);
    const signed = await askAt(house, '/api/sign-in', { method: 'POST', json: { passphrase } });
    const cookie = signed.headers.get('set-cookie')!.split(';')[0]!;
    expect(await mayList(cookie)).toBe(true);
    // The name is kept; and nothing of it is logged.
    expect(await house.running.services.instructor.of(cookie.split('=')[1]!)).toMatchObject({
      value: 'Rosa',
    });
    expect(house.logged.join('\n')).not.toContain(passphrase);
  } finally {
    await house.end();
  }
});

it('keeps a recording that was uploaded, so that the server on the restored folder has it', async () => {
  const house = await openHouse();
  const file = folder.path('with-audio.tar');
  const wav = encodeWav(song.samples, 16);
  try {
    process.env.LARKSTEP_DATA = house.folder;
    const board = await makeBoard(house);
    const sent = await house.running.services.audio.keep(board, new Blob([wav as BlobPart]).stream());
    if (!sent.ok) throw new Error(sent.problem.sentence);
    expect(await answerOf('backup', file)).toMatchObject({ audioFiles: 1 });
    await house.running.stop();
    expect(await answerOf('restore', file)).toMatchObject({ audioFiles: 1 });
    await house.start();
    const kept = await house.running.services.audio.of(board, sent.value.id);
    if (!kept.ok) throw new Error(kept.problem.sentence);
    const bytes = new Uint8Array(await new Response(kept.value.read(0, kept.value.bytes - 1)).arrayBuffer());
    expect(createHash('sha256').update(bytes).digest('hex')).toBe(sent.value.id);
  } finally {
    await house.end();
  }
});
