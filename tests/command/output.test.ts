import { existsSync } from 'node:fs';
import { chmod, link, mkdir, readdir, readFile, stat, symlink, writeFile } from 'node:fs/promises';
import { basename, relative } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { outputAt, put } from '../../server/command/output.ts';
import { moveAll } from '../../server/command/restore.ts';
import { run } from '../../server/command/run.ts';
import { boardOf } from '../kit/board.ts';
import { newFolder, song, writeWav } from './songs.ts';

/** What is read is never written over, what is there only when asked, and what is written is whole or not there. */
let folder: Awaited<ReturnType<typeof newFolder>>;
let wav: string;
let board: string;
beforeEach(async () => {
  folder = await newFolder();
  wav = folder.path('song.wav');
  board = folder.path('board.json');
  await writeWav(wav, song.samples);
  await writeFile(folder.path('edit.json'), '{ "cuts": [{ "from": 8.5, "to": 16.5 }] }');
  await writeFile(board, JSON.stringify(boardOf()));
});
afterEach(() => folder.remove());

const render = (out: string, ...more: string[]) =>
  run(['render', wav, '--edit', folder.path('edit.json'), '--out', out, ...more]);
const hand = (out: string, ...more: string[]) => run(['hand', board, '--to', 'dj', '--out', out, ...more]);
const text = (path: string) => readFile(path, 'utf8');
/** No draft is left. */
const names = () => readdir(folder.path(''));

describe('what is read', () => {
  it('is not written over, under whatever name it is called', async () => {
    const bytes = await readFile(wav);
    await link(wav, folder.path('hard.wav'));
    await symlink(wav, folder.path('soft.wav'));
    await symlink(folder.path(''), folder.path('here'));
    const there = folder.path('');
    const spellings = [
      wav,
      `${there}/hard.wav`,
      `${there}/soft.wav`,
      `${there}/here/song.wav`,
      `${there}/here/../${basename(there)}//./song.wav`,
      relative(process.cwd(), wav),
      `${relative(process.cwd(), there)}/here/../${basename(there)}/song.wav`,
    ];
    for (const out of spellings) {
      for (const more of [[], ['--overwrite']]) {
        expect(await render(out, ...more)).toMatchObject({
          code: 2,
          out: '',
          line: expect.stringContaining('never written over'),
        });
      }
    }
    expect((await readFile(wav)).equals(bytes)).toBe(true);
  });

  it('is neither the edit nor the board', async () => {
    await symlink(folder.path('edit.json'), folder.path('edit.wav'));
    expect(await render(folder.path('edit.wav'), '--overwrite')).toMatchObject({ code: 2 });
    expect(await text(folder.path('edit.json'))).toContain('cuts');
    await link(board, folder.path('board.csv'));
    expect(await hand(folder.path('board.csv'), '--overwrite')).toMatchObject({ code: 2 });
    expect(JSON.parse(await text(board))).toHaveProperty('plan');
  });
});

describe('what is there', () => {
  it('stays, unless --overwrite says otherwise', async () => {
    for (const [name, write] of [
      ['out.wav', render],
      ['out.mp3', render],
      ['out.csv', hand],
      ['out.vtt', hand],
    ] as const) {
      const path = folder.path(name);
      await writeFile(path, 'old');
      expect(await write(path)).toMatchObject({ code: 2, line: expect.stringContaining('--overwrite') });
      expect(await text(path)).toBe('old');
      expect(await write(path, '--overwrite')).toMatchObject({ code: 0 });
      expect(await text(path)).not.toBe('old');
    }
    expect((await names()).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  it('keeps its rights, and the link to it', async () => {
    const path = folder.path('kept.csv');
    await writeFile(path, 'old');
    await chmod(path, 0o640);
    await symlink(path, folder.path('link.csv'));
    expect(await hand(folder.path('link.csv'), '--overwrite')).toMatchObject({ code: 0 });
    expect(await text(path)).not.toBe('old');
    expect((await stat(path)).mode & 0o777).toBe(0o640);
  });

  it('is no folder, and lies in one that is there', async () => {
    await mkdir(folder.path('folder.csv'));
    for (const more of [[], ['--overwrite']]) {
      expect(await hand(folder.path('folder.csv'), ...more)).toMatchObject({
        code: 2,
        line: expect.stringContaining('it is a folder'),
      });
      expect(await hand(folder.path('none/a.csv'), ...more)).toMatchObject({
        code: 2,
        line: expect.stringContaining('there is no such folder'),
      });
    }
  });

  it('also when it came meanwhile: of two that write at once, one takes the name and the other is told', async () => {
    const ended = await Promise.all(
      ['dj', 'couple', 'planner'].map((to) =>
        run(['hand', board, '--to', to, '--out', folder.path('one.csv')]),
      ),
    );
    expect(ended.map(({ code }) => code).sort()).toEqual([0, 2, 2]);

    const path = folder.path('late.txt');
    const wishes = { inputs: [], overwrite: false };
    const outputs = [await outputAt(path, wishes), await outputAt(path, wishes)];
    const written = await Promise.allSettled(outputs.map((output, i) => put(output, `${i}`)));
    expect(written.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
    expect(await text(path)).toBe(written[0]!.status === 'fulfilled' ? '0' : '1');
    expect(written.find(({ status }) => status === 'rejected')).toMatchObject({
      reason: { message: expect.stringContaining('a file of that name is there already') },
    });
  });
});

describe('a write that fails half way', () => {
  function* halfway(): Generator<Uint8Array> {
    yield new Uint8Array(100_000);
    throw Object.assign(new Error('no space left on device, write'), { code: 'ENOSPC', syscall: 'write' });
  }

  it.each([
    ['nothing', false],
    ['the old file', true],
  ])('leaves %s', async (_, isThere) => {
    const path = folder.path('out.wav');
    if (isThere) await writeFile(path, 'old');
    const output = await outputAt(path, { inputs: [], overwrite: isThere });
    await expect(put(output, halfway())).rejects.toThrow(`${path}: the disk is full.`);
    expect(existsSync(path) ? await text(path) : null).toBe(isThere ? 'old' : null);
    expect((await names()).filter((name) => name.endsWith('.part'))).toEqual([]);
  });
});

it('a restore that cannot put all in place puts back what it had moved', async () => {
  await mkdir(folder.path('before'));
  const moves = [
    [board, folder.path('before/board.json')],
    [folder.path('missing'), board],
  ] as const;
  expect(() => moveAll(moves)).toThrow('ENOENT');
  expect(JSON.parse(await text(board))).toHaveProperty('plan');
});
