import { randomUUID } from 'node:crypto';
import { access, mkdtemp, readdir, rm } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { DATABASE, FILES } from '../../lib/store/embedded/open.ts';
import { copyOut } from '../../lib/store/postgres/copy.ts';
import { writeArchive } from './archive.ts';
import { ask, environment, withDatabase } from './store.ts';
import type { Said, Verb } from './verb.ts';
import { plural } from './words.ts';
import { Wrong } from './wrong.ts';

export const backupVerb: Verb = {
  use: 'FILE.tar',
  does: 'all boards and audio files as one file, also while the server runs',
  words: 1,
  async run([path = '']) {
    const { folder, databaseUrl } = environment();
    return databaseUrl === null ? ofFolder(folder, path) : ofDatabase(databaseUrl, path);
  },
};

async function ofFolder(folder: string, path: string): Promise<Said> {
  await access(join(folder, DATABASE)).catch(() => {
    throw new Wrong(`${folder}: nothing is kept here yet; LARKSTEP_DATA names another folder.`);
  });
  const copy = join(folder, `copy-${randomUUID()}`);
  try {
    await ask({ verb: 'backup', file: copy });
    return await archive(path, copy, join(folder, FILES));
  } finally {
    await rm(copy, { force: true });
  }
}

/** Gathered beside the archive, where there must be room for as much again. */
async function ofDatabase(url: string, path: string): Promise<Said> {
  const gathered = await mkdtemp(join(dirname(resolve(path)), 'larkstep-backup-')).catch(() => {
    throw new Wrong(`${path}: there is no such folder, or nothing can be written there.`);
  });
  try {
    await withDatabase(() => copyOut(url, gathered));
    return await archive(path, join(gathered, DATABASE), join(gathered, FILES));
  } finally {
    await rm(gathered, { recursive: true, force: true });
  }
}

/** Files are named by their contents and only ever added or removed: those of the copy are listed after it. */
async function archive(path: string, database: string, files: string): Promise<Said> {
  const found = await readdir(files).catch(() => []);
  const audio = found.filter((name) => /^[0-9a-f]{64}$/.test(name)).sort();
  const written = await writeArchive(path, [
    { name: DATABASE, from: database },
    ...audio.map((id) => ({ name: `${FILES}/${id}`, from: join(files, id) })),
  ]);
  const audioFiles = written.length - 1;
  return {
    json: { file: path, audioFiles },
    text: `${path}: all boards, links and ${plural(audioFiles, 'audio file')}.`,
    line: 'backup: done. It holds what people wrote: keep it as safe as the server.',
  };
}
