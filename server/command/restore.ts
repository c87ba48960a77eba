import { randomUUID } from 'node:crypto';
import { access, mkdir, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { DATABASE, FILES } from '../../lib/store/embedded/open.ts';
import { readArchive } from './archive.ts';
import { environment, held } from './store.ts';
import type { Verb } from './verb.ts';
import { plural } from './words.ts';
import { Wrong } from './wrong.ts';

export const restoreVerb: Verb = {
  use: 'FILE.tar',
  does: 'what a backup holds, in place of what is there; the server must be stopped',
  words: 1,
  async run([path = '']) {
    const { folder } = environment();
    const lock = held(folder);
    const mark = randomUUID();
    const fresh = join(folder, `restoring-${mark}`);
    try {
      const names = await readArchive(path, fresh);
      if (!names.includes(DATABASE)) throw new Wrong(`${path}: this backup holds no boards.`);
      await mkdir(join(fresh, FILES), { recursive: true, mode: 0o700 });
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
  },
};

const exists = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  );
