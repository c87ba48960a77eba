import { randomUUID } from 'node:crypto';
import { access, readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { DATABASE, FILES } from '../../lib/store/embedded/open.ts';
import { writeArchive } from './archive.ts';
import { ask, environment } from './store.ts';
import type { Verb } from './verb.ts';
import { plural } from './words.ts';
import { Wrong } from './wrong.ts';

export const backupVerb: Verb = {
  use: 'FILE.tar',
  does: 'all boards and audio files as one file, also while the server runs',
  words: 1,
  async run([path = '']) {
    const { folder } = environment();
    await access(join(folder, DATABASE)).catch(() => {
      throw new Wrong(`${folder}: nothing is kept here yet; LARKSTEP_DATA names another folder.`);
    });
    const copy = join(folder, `copy-${randomUUID()}`);
    try {
      await ask({ verb: 'backup', file: copy });
      // Files are named by their contents and only ever added or removed: those of the copy are listed after it.
      const found = await readdir(join(folder, FILES)).catch(() => []);
      const audio = found.filter((name) => /^[0-9a-f]{64}$/.test(name)).sort();
      const written = await writeArchive(path, [
        { name: DATABASE, from: copy },
        ...audio.map((id) => ({ name: `${FILES}/${id}`, from: join(folder, FILES, id) })),
      ]);
      const audioFiles = written.length - 1;
      const json = { file: path, audioFiles };
      const text = `${path}: all boards, links and ${plural(audioFiles, 'audio file')}.`;
      return { json, text, line: 'backup: done. It holds what people wrote: keep it as safe as the server.' };
    } finally {
      await rm(copy, { force: true });
    }
  },
};
