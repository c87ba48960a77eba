import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { closeSync, existsSync, openSync } from 'node:fs';
import { chmod, copyFile, mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startedIn } from '../../server/command/place.ts';
import { boardOf, fadeAt } from '../kit/board.ts';
import { ended, larkstep, linesOf } from './process.ts';
import { newFolder } from './songs.ts';

/** How the command ends as a process: what a shell, a pipe, a full disk, npm and a signal see of it. */
let folder: Awaited<ReturnType<typeof newFolder>>;
let board: string;
let band: string;
beforeAll(async () => {
  folder = await newFolder();
  board = folder.path('board.json');
  await writeFile(board, JSON.stringify(boardOf()));
  band = folder.path('band.json');
  await writeFile(band, JSON.stringify(boardOf({}, { musicBy: 'band', edit: fadeAt(120, 8) })));
});
afterAll(() => folder.remove());
/** Options for node: the code runs inside the command, as soon as that has begun. */
function onceBegun(code: string): string[] {
  const late = `process.on('newListener', (name) => name === 'uncaughtException' && setTimeout(() => { ${code} }, 1))`;
  return ['--import', `data:text/javascript,${encodeURIComponent(late)}`];
}
const day = ['--today', '2027-05-01'];

describe('standard output', { timeout: 120_000 }, () => {
  it('whose reader has gone ends nothing: the exit code stays what was found, without a stack', async () => {
    for (const [args, code] of [
      [['check', board, ...day], 0],
      [['check', band, ...day, '--json'], 1],
    ] as const) {
      const process = await larkstep(args, { stdout: 'gone' });
      expect(process).toMatchObject({ code, signal: null });
      expect(linesOf(process)).toHaveLength(1);
    }
  });

  it.skipIf(!existsSync('/dev/full'))(
    'that is full ends with 2 and one sentence, whatever was found (needs /dev/full)',
    async () => {
      const full = openSync('/dev/full', 'w');
      const process = await larkstep(['check', band, ...day], { stdout: full });
      closeSync(full);
      expect(process.code).toBe(2);
      expect(linesOf(process)).toEqual(['larkstep: the answer cannot be written: the disk is full.']);
    },
  );

  it('holds nothing but JSON with --json, also where a library has something to say', async () => {
    const { out, err, code } = await larkstep(['check', board, ...day, '--json'], {
      before: onceBegun('console.log("by the way"); console.info("and so on")'),
    });
    expect(code).toBe(0);
    expect(JSON.parse(out)).toHaveProperty('findings');
    expect(err).toMatch(/^by the way\nand so on\n/);
  });
});

describe('a disk that is full', { timeout: 120_000 }, () => {
  const args = ['hand', '--to', 'planner', '--out'];
  const node = [process.execPath, '--import', 'tsx', 'server/command/main.ts'];
  const tiny = (path: string) => `mount -t tmpfs -o size=4k tmpfs ${path}`;
  const mayMount = spawnSync('unshare', ['-rm', 'sh', '-c', tiny('/mnt')]).status === 0;

  it.skipIf(!mayMount)('gets nothing, or keeps what it had (needs leave to mount)', async () => {
    const full = folder.path('full');
    await mkdir(full);
    for (const [first, more] of [
      ['true', ''],
      [`printf old > ${full}/a.pdf`, '--overwrite'],
    ]) {
      const call = `${node.join(' ')} ${args.join(' ')} ${full}/a.pdf ${board} ${more}`;
      const script = `${tiny(full)} && ${first} && { ${call}; echo $?; ls -A ${full}; cat ${full}/a.pdf; }`;
      const { out, err } = await ended('unshare', ['-rm', 'sh', '-c', script]);
      expect(err.split('\n')[0]).toBe(`${full}/a.pdf: the disk is full.`);
      expect(out).toBe(more === '' ? '2\n' : '2\na.pdf\nold');
    }
  });

  const hasLimits = spawnSync('prlimit', ['--version']).status === 0;
  it.skipIf(!hasLimits)('or a file that may not grow: nothing is left (needs prlimit)', async () => {
    const small = folder.path('small');
    await mkdir(small);
    const path = join(small, 'a.pdf');
    const process = await ended('prlimit', ['--fsize=4096', ...node, ...args, path, board]);
    expect(process).toMatchObject({ code: 2, out: '' });
    expect(linesOf(process)).toEqual([`${path}: the file becomes larger than is allowed there.`]);
    expect(await readdir(small)).toEqual([]);
  });
});

describe('a fault of ours', { timeout: 120_000 }, () => {
  it.each([
    ['an error that nothing caught', 'throw new TypeError("odd")'],
    ['a promise that nobody awaited', 'Promise.reject(new TypeError("odd"))'],
  ])('ends with 2: %s', async (_, fault) => {
    const process = await larkstep(['check', board], { before: onceBegun(fault) });
    expect(process).toMatchObject({ code: 2, signal: null });
    expect(linesOf(process)[0]).toBe('larkstep: a fault of ours, please tell us: TypeError: odd');
  });
});

it('without the packages that it needs it says so, with 2', async () => {
  const alone = folder.path('start.mjs');
  await copyFile('server/command/start.mjs', alone);
  const process_ = await ended(process.execPath, [alone, 'check', board]);
  expect(process_).toMatchObject({ code: 2, out: '' });
  expect(linesOf(process_)).toEqual([expect.stringContaining('npm install')]);
});

describe('a signal', { timeout: 120_000 }, () => {
  it.each(['SIGINT', 'SIGTERM'] as const)('%s ends a write and leaves nothing of it', async (signal) => {
    const path = folder.path('never.txt');
    const script = `
      import { outputAt } from './server/command/output.ts';
      const output = await outputAt(${JSON.stringify(path)}, { inputs: [], overwrite: false });
      await output.fill(async (file) => {
        await file.writeFile('half');
        console.log('begun');
        await new Promise((resolve) => setTimeout(resolve, 60_000));
      });`;
    const child = spawn(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script]);
    await once(createInterface(child.stdout), 'line');
    expect((await readdir(folder.path(''))).filter((name) => name.endsWith('.part'))).toHaveLength(1);
    child.kill(signal);
    expect(await once(child, 'exit')).toEqual([null, signal]);
    expect((await readdir(folder.path(''))).filter((name) => /part$|never/.test(name))).toEqual([]);
  });
});

/** Who may read everything asks as somebody else. */
const somebody = process.getuid?.() === 0 ? { uid: 65_534, gid: 65_534 } : {};
const mayStart = spawnSync(process.execPath, ['--import', 'tsx', '-e', ''], somebody).status === 0;
it.skipIf(!mayStart)(
  'a file that may not be read is named, with 2 (as root, needs a checkout that others may read)',
  { timeout: 120_000 },
  async () => {
    const secret = folder.path('secret.json');
    await writeFile(secret, '{}');
    await chmod(secret, 0o000);
    await chmod(folder.path(''), 0o755);
    const process_ = await larkstep(['check', secret], somebody);
    expect(process_).toMatchObject({ code: 2, out: '' });
    expect(linesOf(process_)).toEqual([`${secret}: it may not be read or written here.`]);
  },
);

describe('by npm', { timeout: 120_000 }, () => {
  it('relative paths are those of the folder in which it was called', async () => {
    const called = ['--prefix', process.cwd(), 'run', '--silent', 'larkstep', '--'];
    const args = ['hand', 'board.json', '--to', 'dj', '--out', './mine.csv'];
    const process_ = await ended('npm', [...called, ...args], 'pipe', { cwd: folder.path('') });
    expect(process_).toMatchObject({ code: 0, out: './mine.csv: for the DJ.\n' });
    expect(await readFile(folder.path('mine.csv'), 'utf8')).not.toBe('');
  });

  it('INIT_CWD is believed of our own script alone, run where npm runs it', () => {
    const here = process.cwd();
    const byNpm = {
      INIT_CWD: '/somewhere',
      npm_lifecycle_event: 'larkstep',
      npm_package_json: join(here, 'package.json'),
    };
    expect(startedIn(byNpm, here)).toBe('/somewhere');
    expect(startedIn({ ...byNpm, npm_lifecycle_event: 'test' }, here)).toBe(here);
    expect(startedIn({ ...byNpm, npm_package_json: '/other/package.json' }, here)).toBe(here);
    expect(startedIn(byNpm, '/elsewhere')).toBe('/elsewhere');
    expect(startedIn({ INIT_CWD: '/somewhere' }, here)).toBe(here);
    expect(startedIn({ ...byNpm, INIT_CWD: 'somewhere' }, here)).toBe(here);
  });
});
