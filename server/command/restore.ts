import { randomUUID } from 'node:crypto';
import { access, mkdir, mkdtemp, rename, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DATABASE, FILES } from '../../lib/store/embedded/open.ts';
import { copyIn } from '../../lib/store/postgres/copy.ts';
import { readArchive } from './archive.ts';
import { environment, held, withDatabase } from './store.ts';
import type { Said, Verb } from './verb.ts';
import { plural } from './words.ts';
import { Wrong } from './wrong.ts';

export const restoreVerb: Verb = {
  use: 'FILE.tar',
  does: 'what a backup holds, in place of what is there; the server must be stopped',
  words: 1,
  async run([path = '']) {
    const { folder, databaseUrl } = environment();
    return databaseUrl === null ? intoFolder(folder, path) : intoDatabase(databaseUrl, path);
  },
};

async function intoFolder(folder: string, path: string): Promise<Said> {
  const lock = held(folder);
  const mark = randomUUID();
  const fresh = join(folder, `restoring-${mark}`);
  try {
    const names = await unpack(path, fresh);
    const before = join(folder, `before-${mark.slice(0, 8)}`);
    await mkdir(before, { mode: 0o700 });
    // What was there is set aside, never deleted.
    for (const name of [DATABASE, `${DATABASE}-wal`, `${DATABASE}-shm`, FILES]) {
      if (await exists(join(folder, name))) await rename(join(folder, name), join(before, name));
    }
    for (const name of [FILES, DATABASE]) await rename(join(fresh, name), join(folder, name));
    const json = { folder, audioFiles: names.length - 1, before };
    const text = `${folder}: restored, with ${plural(names.length - 1, 'audio file')}. What was there before lies in ${before}.`;
    return { json, text, line: 'restore: done. Start the server again.' };
  } finally {
    await rm(fresh, { recursive: true, force: true });
    lock.release();
  }
}

/** Only into an empty database: what people wrote is never replaced, and a node that runs has written something. */
async function intoDatabase(url: string, path: string): Promise<Said> {
  const fresh = await mkdtemp(join(tmpdir(), 'larkstep-restoring-'));
  try {
    await unpack(path, fresh);
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
  } finally {
    await rm(fresh, { recursive: true, force: true });
  }
}

async function unpack(path: string, fresh: string): Promise<string[]> {
  const names = await readArchive(path, fresh);
  if (!names.includes(DATABASE)) throw new Wrong(`${path}: this backup holds no boards.`);
  await mkdir(join(fresh, FILES), { recursive: true, mode: 0o700 });
  return names;
}

const exists = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  );
