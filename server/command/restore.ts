import { randomUUID } from 'node:crypto';
import { existsSync, mkdirSync, renameSync, rmdirSync } from 'node:fs';
import { mkdir, mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DATABASE, FILES } from '../../lib/store/embedded/open.ts';
import { isLater } from '../../lib/store/later.ts';
import { copyIn } from '../../lib/store/postgres/copy.ts';
import { readArchive } from './archive.ts';
import { reading } from './files.ts';
import { withLeftover } from './leftover.ts';
import { environment, held, withDatabase } from './store.ts';
import type { Said, Verb } from './verb.ts';
import { databaseFaults, fileFaults, filesOf } from './whole.ts';
import { plural } from './words.ts';
import { Wrong } from './wrong.ts';

export const restoreVerb: Verb = {
  use: 'FILE.tar',
  does: 'what a backup holds, in place of what is there; the server must be stopped',
  words: 1,
  example: 'restore boards-of-today.tar',
  async run([path = '']) {
    const { folder, databaseUrl } = environment();
    // Before anything is made or locked for it.
    await reading(path, async () => {});
    return databaseUrl === null ? intoFolder(folder, path) : intoDatabase(databaseUrl, path);
  },
};

async function intoFolder(folder: string, path: string): Promise<Said> {
  const lock = held(folder);
  const mark = randomUUID();
  const fresh = join(folder, `restoring-${mark}`);
  const exchange = withLeftover(fresh, async () => {
    const names = await unpackWhole(path, fresh);
    const before = join(folder, `before-${mark.slice(0, 8)}`);
    mkdirSync(before, { mode: 0o700 });
    // What was there is set aside, never deleted.
    const there = [DATABASE, `${DATABASE}-wal`, `${DATABASE}-shm`, FILES].filter((name) =>
      existsSync(join(folder, name)),
    );
    try {
      moveAll([
        ...there.map((name): Move => [join(folder, name), join(before, name)]),
        ...[FILES, DATABASE].map((name): Move => [join(fresh, name), join(folder, name)]),
      ]);
    } catch (error) {
      rmdirSync(before);
      throw error;
    }
    const json = { folder, audioFiles: names.length - 1, before };
    const text = `${folder}: restored, with ${plural(names.length - 1, 'audio file')}. What was there before lies in ${before}.`;
    return { json, text, line: 'restore: done. Start the server again.' };
  });
  return exchange.finally(() => lock.release());
}

type Move = readonly [from: string, to: string];
/** All or none, in one go: neither an error nor a signal leaves the folder with half of each. */
export function moveAll(moves: readonly Move[]): void {
  const done: Move[] = [];
  try {
    for (const [from, to] of moves) {
      renameSync(from, to);
      done.push([from, to]);
    }
  } catch (error) {
    for (const [from, to] of done.reverse()) renameSync(to, from);
    throw error;
  }
}

/** Only into an empty database: what people wrote is never replaced, and a node that runs has written something. */
async function intoDatabase(url: string, path: string): Promise<Said> {
  const fresh = await mkdtemp(join(tmpdir(), 'larkstep-restoring-'));
  return withLeftover(fresh, async () => {
    await unpackWhole(path, fresh);
    const copied = await withDatabase(() => copyIn(url, fresh));
    if (copied === null)
      throw new Wrong(
        'The database that DATABASE_URL names is not empty: name a new one, and restore into that.',
      );
    return {
      json: { audioFiles: copied.audioFiles },
      text: `The database holds the backup now, with ${plural(copied.audioFiles, 'audio file')}.`,
      line: 'restore: done. Start the servers.',
    };
  });
}

/** Refuses a backup of which anything is damaged, before anything is replaced by it. */
async function unpackWhole(path: string, fresh: string): Promise<string[]> {
  const names = await unpack(path, fresh);
  try {
    const faults = databaseFaults(fresh);
    if (faults.length === 0) faults.push(...(await fileFaults(fresh, filesOf(fresh))).damaged);
    if (faults.length > 0)
      throw new Wrong(
        `${path}: this backup is damaged, and nothing was changed. ${faults[0]} larkstep verify tells all.`,
      );
  } catch (error) {
    if (isLater(error)) throw new Wrong(`${path}: ${error.message}`);
    throw error;
  }
  return names;
}

/** The files of a backup, in a folder that it makes or fills. */
export async function unpack(path: string, fresh: string): Promise<string[]> {
  const names = await readArchive(path, fresh);
  if (!names.includes(DATABASE)) throw new Wrong(`${path}: this backup holds no boards.`);
  await mkdir(join(fresh, FILES), { recursive: true, mode: 0o700 });
  return names;
}
