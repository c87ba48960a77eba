import { randomUUID } from 'node:crypto';
import { mkdtemp, readdir } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { DATABASE, FILES } from '../../lib/store/embedded/open.ts';
import { copyOut } from '../../lib/store/postgres/copy.ts';
import { writeArchive } from './archive.ts';
import { withLeftover } from './leftover.ts';
import { type Output, outputAt, overwriteOption } from './output.ts';
import { placeOf } from './place.ts';
import { ask, environment, needBoards, withDatabase } from './store.ts';
import type { Said, Verb } from './verb.ts';
import { plural } from './words.ts';

/** It holds what people wrote, and so is for whoever made it alone. */
const MODE = 0o600;

export const backupVerb: Verb = {
  use: 'FILE.tar',
  does: 'all boards and audio files as one file, also while the server runs',
  words: 1,
  options: overwriteOption,
  example: 'backup boards-of-today.tar',
  async run([path = ''], given) {
    const { folder, databaseUrl } = environment();
    const overwrite = given.overwrite === true;
    if (databaseUrl !== null) {
      return ofDatabase(databaseUrl, path, await outputAt(path, { inputs: [], overwrite, mode: MODE }));
    }
    await needBoards(folder);
    const inputs = await keptIn(folder);
    return ofFolder(folder, path, await outputAt(path, { inputs, overwrite, mode: MODE }));
  },
};

/** All files of the server's folder: none of them is ever written over. */
async function keptIn(folder: string): Promise<string[]> {
  const found = await readdir(folder, { withFileTypes: true, recursive: true });
  return found.filter((one) => one.isFile()).map((one) => join(one.parentPath, one.name));
}

async function ofFolder(folder: string, path: string, output: Output): Promise<Said> {
  const copy = join(folder, `copy-${randomUUID()}`);
  return withLeftover(copy, async () => {
    await ask({ verb: 'backup', file: copy });
    return archive(path, output, copy, join(folder, FILES));
  });
}

/** Gathered beside the archive, where there must be room for as much again. */
async function ofDatabase(url: string, path: string, output: Output): Promise<Said> {
  const gathered = await mkdtemp(`${dirname(placeOf(path))}/larkstep-backup-`);
  return withLeftover(gathered, async () => {
    await withDatabase(() => copyOut(url, gathered));
    return archive(path, output, join(gathered, DATABASE), join(gathered, FILES));
  });
}

/** Files are named by their contents and only ever added or removed: those of the copy are listed after it. */
async function archive(path: string, output: Output, database: string, files: string): Promise<Said> {
  const found = await readdir(files).catch(() => []);
  const audio = found.filter((name) => /^[0-9a-f]{64}$/.test(name)).sort();
  const written = await output.fill((file) =>
    writeArchive(file, [
      { name: DATABASE, from: database },
      ...audio.map((id) => ({ name: `${FILES}/${id}`, from: join(files, id) })),
    ]),
  );
  const audioFiles = written.length - 1;
  return {
    json: { file: path, audioFiles },
    text: `${path}: all boards, links and ${plural(audioFiles, 'audio file')}.`,
    line: 'backup: done. It holds what people wrote: keep it as safe as the server.',
  };
}
