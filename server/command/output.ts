import { randomUUID } from 'node:crypto';
import { closeSync, openSync, renameSync, rmSync } from 'node:fs';
import { access, constants, type FileHandle, lstat, open, realpath, stat, writeFile } from 'node:fs/promises';
import { dirname, sep } from 'node:path';
import { about } from './failure.ts';
import { withLeftover } from './leftover.ts';
import { placeOf } from './place.ts';
import type { Options } from './verb.ts';
import { Wrong } from './wrong.ts';

/** The option of every verb that writes a file. */
export const overwriteOption: Options = {
  overwrite: { does: 'write over a file that is there; over what is read, never' },
};

/** A file that will be written. */
export interface Output {
  /**
   * Written beside its place and put there whole, so that a failure leaves the old file, or none.
   * @param write fills the file; what it gives is given on
   */
  fill<T>(write: (file: FileHandle) => Promise<T>): Promise<T>;
}

interface Wish {
  /** Files that are read: whatever their names, they are never written over. */
  inputs: readonly string[];
  /** Whether a file that is there may be written over. */
  overwrite: boolean;
  /** Rights of a new file, before the account's mask. */
  mode?: number;
}

/** Says before long work whether the file may be written there. */
export async function outputAt(path: string, { inputs, overwrite, mode = 0o666 }: Wish): Promise<Output> {
  const old = await standing(path, inputs, overwrite);
  // Through a link the file that it leads to is written, as everywhere.
  const place = old === null ? placeOf(path) : await realpath(placeOf(path)).catch(() => placeOf(path));
  const draft = `${dirname(place)}/.larkstep-${randomUUID()}.part`;
  await access(dirname(place), constants.W_OK).catch((error) => {
    throw missing(error) ? new Wrong(`${path}: there is no such folder.`) : about(path, error);
  });
  return {
    async fill(write) {
      try {
        return await withLeftover(draft, async () => {
          const file = await open(draft, 'wx', mode);
          let given: Awaited<ReturnType<typeof write>>;
          try {
            given = await write(file);
            if (old !== null) await file.chmod(old & mode);
            await file.sync();
          } finally {
            await file.close();
          }
          if (overwrite) renameSync(draft, place);
          else putNew(draft, place);
          return given;
        });
      } catch (error) {
        throw about(path, error);
      }
    },
  };
}

/** Gives the bytes of the file. */
export const put = (output: Output, content: Uint8Array | string | Iterable<Uint8Array>): Promise<number> =>
  output.fill(async (file) => {
    await writeFile(file, content);
    return (await file.stat()).size;
  });

/** The rights of the file that will be written over; null where there is none yet. */
async function standing(path: string, inputs: readonly string[], overwrite: boolean): Promise<number | null> {
  if (path.endsWith('/') || path.endsWith(sep)) throw new Wrong(`${path}: it is a folder, a file is needed.`);
  const place = placeOf(path);
  const file = await fileAt(place);
  for (const input of file === null ? [] : inputs) {
    if ((await fileAt(placeOf(input))) === file) {
      throw new Wrong(
        `${path}: that is ${input}, which is read and never written over. Choose another name.`,
      );
    }
  }
  try {
    const there = await lstat(place);
    if (there.isDirectory()) throw new Wrong(`${path}: it is a folder, a file is needed.`);
    if (!overwrite) {
      throw new Wrong(
        `${path}: a file of that name is there already. Choose another name, or say --overwrite.`,
      );
    }
    const found = await stat(place);
    if (!found.isFile()) throw new Wrong(`${path}: it is no ordinary file, and is not written over.`);
    await access(place, constants.W_OK);
    return found.mode & 0o777;
  } catch (error) {
    if (missing(error)) return null;
    throw about(path, error);
  }
}

/** What tells a file from all others, whatever name, link or spelling leads to it; null where none is. */
const fileAt = (place: string): Promise<string | null> =>
  stat(place, { bigint: true }).then(
    ({ dev, ino }) => `${dev} ${ino}`,
    () => null,
  );

/** Of two that come at once only one gets the name. Not by a hard link, which the file systems of USB sticks lack. */
function putNew(draft: string, place: string): void {
  closeSync(openSync(place, 'wx'));
  try {
    renameSync(draft, place);
  } catch (error) {
    rmSync(place);
    throw error;
  }
}

const missing = (error: unknown): boolean => (error as NodeJS.ErrnoException).code === 'ENOENT';
