import { type FileHandle, mkdir, open } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { about } from './failure.ts';
import { reading } from './files.ts';
import { Wrong } from './wrong.ts';

/** A backup is one POSIX tar file (IEEE 1003.1, ustar), so that any computer can open it without us. */
const BLOCK = 512;
const CHUNK = 1 << 20;

/** Writes files under their names in the archive, in this order; gives the names of those that were there. */
export async function writeArchive(
  out: FileHandle,
  files: readonly { name: string; from: string }[],
): Promise<string[]> {
  const written: string[] = [];
  for (const { name, from } of files) {
    const source = await open(from).catch((error: NodeJS.ErrnoException) => {
      // The last board that used it was deleted since the files were listed.
      if (error.code === 'ENOENT') return null;
      throw about(from, error);
    });
    if (!source) continue;
    try {
      const { size } = await source.stat();
      await out.writeFile(header(name, size));
      await copy(source, out, size);
      await out.writeFile(new Uint8Array((BLOCK - (size % BLOCK)) % BLOCK));
      written.push(name);
    } finally {
      await source.close();
    }
  }
  await out.writeFile(new Uint8Array(2 * BLOCK));
  return written;
}

/** Unpacks into a folder; refuses what is damaged, and names that lead out of the folder. */
export const readArchive = (path: string, folder: string): Promise<string[]> =>
  reading(path, async (source) => {
    const names: string[] = [];
    const { size: whole } = await source.stat();
    for (let at = 0; ; ) {
      const head = Buffer.alloc(BLOCK);
      const { bytesRead } = await source.read(head, 0, BLOCK, at);
      if (bytesRead < BLOCK) throw new Wrong(`${path}: this backup ends too early.`);
      if (head.every((byte) => byte === 0)) return names;
      const { name, size } = entryOf(head, path);
      if (at + BLOCK + size > whole) throw new Wrong(`${path}: this backup ends too early.`);
      await unpackOne(source, at + BLOCK, size, join(folder, name)).catch((error) => {
        throw about(dirname(folder), error);
      });
      names.push(name);
      at += BLOCK + Math.ceil(size / BLOCK) * BLOCK;
    }
  });

async function unpackOne(source: FileHandle, at: number, size: number, to: string): Promise<void> {
  await mkdir(dirname(to), { recursive: true, mode: 0o700 });
  const out = await open(to, 'w', 0o600);
  try {
    await copy(source, out, size, at);
    await out.sync();
  } finally {
    await out.close();
  }
}

async function copy(source: FileHandle, out: FileHandle, size: number, from = 0): Promise<void> {
  const chunk = Buffer.alloc(Math.min(CHUNK, Math.max(1, size)));
  for (let done = 0; done < size; ) {
    const { bytesRead } = await source.read(chunk, 0, Math.min(chunk.length, size - done), from + done);
    if (bytesRead === 0) throw new Wrong('A file became shorter while it was read: try again.');
    await out.writeFile(chunk.subarray(0, bytesRead));
    done += bytesRead;
  }
}

const octal = (value: number, width: number): string => `${value.toString(8).padStart(width - 1, '0')}\0`;

function header(name: string, size: number): Buffer {
  const head = Buffer.alloc(BLOCK);
  head.write(name, 0, 100, 'utf8');
  head.write(octal(0o600, 8), 100);
  head.write(octal(0, 8) + octal(0, 8), 108);
  head.write(octal(size, 12) + octal(0, 12), 124);
  head.write('0', 156);
  head.write('ustar\x0000', 257, 'latin1');
  head.write(octal(checksum(head), 7), 148);
  head[155] = 0x20;
  return head;
}

/** Sum of the bytes, the checksum's own eight taken for blanks. */
const checksum = (head: Buffer): number =>
  head.reduce((sum, byte, i) => sum + (i >= 148 && i < 156 ? 0x20 : byte), 0);

function entryOf(head: Buffer, path: string): { name: string; size: number } {
  const text = (from: number, length: number): string =>
    head
      .toString('utf8', from, from + length)
      .replace(/\0.*$/s, '')
      .trim();
  const name = text(0, 100);
  const size = Number.parseInt(text(124, 12), 8);
  const whole = text(257, 5) === 'ustar' && Number.parseInt(text(148, 8), 8) === checksum(head) && size >= 0;
  if (!whole) throw new Wrong(`${path}: this is no backup, or it is damaged.`);
  if (!/^(larkstep\.db|files\/[0-9a-f]{64})$/.test(name))
    throw new Wrong(`${path}: this is no backup of Larkstep.`);
  return { name, size };
}
