import { randomUUID } from 'node:crypto';
import { access, readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { DATABASE } from '../../lib/store/embedded/open.ts';
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
      const found = await readdir(join(folder, 'files'), { recursive: true, withFileTypes: true }).catch(
        () => [],
      );
      const audio = found.map(({ name }) => name).filter((name) => /^[0-9a-f]{64}$/.test(name));
      const place = (id: string) => join('files', id.slice(0, 2), id);
      await writeArchive(path, [
        { name: DATABASE, from: copy },
        ...audio
          .sort()
          .map((id) => ({ name: place(id).replaceAll('\\', '/'), from: join(folder, place(id)) })),
      ]);
      const json = { file: path, audioFiles: audio.length };
      const text = `${path}: all boards, links and ${plural(audio.length, 'audio file')}.`;
      return { json, text, line: 'backup: done. It holds what people wrote: keep it as safe as the server.' };
    } finally {
      await rm(copy, { force: true });
    }
  },
};
