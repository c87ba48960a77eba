import { type FileHandle, open } from 'node:fs/promises';
import { aacProgram } from '../../lib/codec/aac.node.ts';
import { type Decoded, decode, LIMITS } from '../../lib/codec/decode.ts';
import { about } from './failure.ts';
import { placeOf } from './place.ts';
import { need, Wrong } from './wrong.ts';

/** Work on a file that is read; what the system says no with is said of its name. */
export async function reading<T>(path: string, work: (file: FileHandle) => Promise<T>): Promise<T> {
  try {
    const file = await open(placeOf(path));
    try {
      if ((await file.stat()).isDirectory()) throw new Wrong(`${path}: it is a folder, a file is needed.`);
      return await work(file);
    } finally {
      await file.close();
    }
  } catch (error) {
    throw about(path, error);
  }
}

export const bytesOf = (path: string): Promise<Uint8Array> =>
  reading(path, async (file) => {
    const info = await file.stat();
    if (info.isFile() && info.size <= LIMITS.fileBytes) return file.readFile();
    // What is longer, or never ends, is not read to its end.
    const parts: Uint8Array[] = [];
    for await (const part of file.createReadStream({ end: LIMITS.fileBytes, autoClose: false })) {
      parts.push(part);
    }
    const bytes = Buffer.concat(parts);
    if (bytes.length <= LIMITS.fileBytes) return bytes;
    const most = Math.round(LIMITS.fileBytes / 1024 / 1024);
    throw new Wrong(`${path}: it is larger than ${most} MB. Of a song, take the MP3.`);
  });

export const textOf = async (path: string): Promise<string> => new TextDecoder().decode(await bytesOf(path));

export async function jsonOf(path: string): Promise<unknown> {
  const text = await textOf(path);
  if (text.trim() === '') throw new Wrong(`${path}: this file is empty.`);
  try {
    return JSON.parse(text);
  } catch {
    throw new Wrong(`${path}: this is no JSON.`);
  }
}

export async function songOf(path: string): Promise<Decoded & { bytes: Uint8Array }> {
  const bytes = await bytesOf(path);
  return { ...need(await decode(bytes, { aac: aacProgram }), path), bytes };
}
