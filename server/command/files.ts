import { open, readFile, writeFile } from 'node:fs/promises';
import { decodeAacWithFfmpeg } from '../../lib/codec/aac.node.ts';
import { type Decoded, decode } from '../../lib/codec/decode.ts';
import { need, Wrong } from './wrong.ts';

const reasons: Record<string, string> = {
  ENOENT: 'there is no such file',
  EISDIR: 'it is a folder, a file is needed',
  EACCES: 'it may not be read or written here',
  ENOTDIR: 'there is no such folder',
};
const reasonOf = (error: unknown): string =>
  reasons[(error as NodeJS.ErrnoException).code ?? ''] ?? String((error as Error).message);

export async function bytesOf(path: string): Promise<Uint8Array> {
  try {
    return await readFile(path);
  } catch (error) {
    throw new Wrong(`${path}: ${reasonOf(error)}.`);
  }
}

export const textOf = async (path: string): Promise<string> => new TextDecoder().decode(await bytesOf(path));

export async function jsonOf(path: string): Promise<unknown> {
  try {
    return JSON.parse(await textOf(path));
  } catch (error) {
    if (error instanceof Wrong) throw error;
    throw new Wrong(`${path}: this is no JSON.`);
  }
}

export async function songOf(path: string): Promise<Decoded & { bytes: Uint8Array }> {
  const bytes = await bytesOf(path);
  return { ...need(await decode(bytes, { aac: decodeAacWithFfmpeg }), path), bytes };
}

export async function put(path: string, content: Uint8Array | string): Promise<void> {
  try {
    await writeFile(path, content);
  } catch (error) {
    throw notWritten(path, error);
  }
}

/** Writes a file piece by piece, so that a long one is never in memory as a whole; gives its bytes. */
export async function putPieces(path: string, pieces: Iterable<Uint8Array>): Promise<number> {
  const file = await open(path, 'w').catch((error) => {
    throw notWritten(path, error);
  });
  try {
    let bytes = 0;
    for (const piece of pieces) {
      await file.writeFile(piece);
      bytes += piece.length;
    }
    return bytes;
  } finally {
    await file.close();
  }
}

function notWritten(path: string, error: unknown): Wrong {
  const isMissing = (error as NodeJS.ErrnoException).code === 'ENOENT';
  return new Wrong(`${path}: ${isMissing ? reasons.ENOTDIR : reasonOf(error)}.`);
}
