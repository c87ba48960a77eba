import { createHash, randomBytes } from 'node:crypto';
import { mkdir, open, readdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Services } from '../../lib/access/services.ts';
import { type Format, type Other, sniff } from '../../lib/codec/sniff.ts';
import { bad, good, type Result } from '../../lib/core/result.ts';
import type { Store } from '../../lib/store/store.ts';

const LARGEST = 100 * 1000 * 1000;
const types: Record<Format, string> = {
  wav: 'audio/wav',
  mp3: 'audio/mpeg',
  flac: 'audio/flac',
  vorbis: 'audio/ogg',
  opus: 'audio/ogg',
  aac: 'audio/mp4',
};
const words: Record<Other, string> = {
  nothing: 'This file is empty.',
  text: 'This is a text, not a song.',
  'a film': 'This is a film. Please take a file that holds only the song.',
  'a picture': 'This is a picture, not a song.',
  'an archive': 'This is an archive. Please unpack it and take the song in it.',
  'a document': 'This is a document, not a song.',
  unknown: 'This is no audio file that we know. WAV, MP3, M4A, FLAC, Ogg Vorbis and Opus work.',
};

type AudioService = Services['audio'] & {
  /** Removes what no board has any more, and what a crash left over. */
  sweep(): Promise<void>;
};

/** Files by the SHA-256 of their bytes. `incoming` is a folder of this process alone, for uploads on their way. */
export function audioService(store: Store, incoming: string): AudioService {
  const receiving = new Set<string>();
  return {
    async keep(board, bytes) {
      await mkdir(incoming, { recursive: true, mode: 0o700 });
      const name = `${randomBytes(8).toString('hex')}.part`;
      const part = join(incoming, name);
      receiving.add(name);
      try {
        const received = await receive(bytes, part);
        if (!received.ok) return received;
        const kind = sniff(await readFile(part));
        if (!kind.audio) return bad('not audio', words[kind.what]);
        const { id, size } = received.value;
        await store.files.add(board, { id, bytes: size, type: types[kind.format] }, part);
        return good({ id, bytes: size });
      } finally {
        await rm(part, { force: true });
        receiving.delete(name);
      }
    },
    async of(board, id) {
      const file = await store.files.of(board, id);
      if (!file) return bad('not found', 'This recording is not here. Please choose the file once more.');
      return good({
        bytes: file.bytes,
        type: file.type,
        read: (from, to) => store.files.read(id, from, to),
      });
    },
    async sweep() {
      await store.files.removeUnused();
      for (const name of await readdir(incoming).catch(() => []))
        if (!receiving.has(name)) await rm(join(incoming, name), { force: true });
    },
  };
}

/** Streams to a file, so that an upload never lies in memory as it comes in; durable when it resolves. */
async function receive(
  bytes: ReadableStream<Uint8Array>,
  path: string,
): Promise<Result<{ id: string; size: number }>> {
  const hash = createHash('sha256');
  let size = 0;
  const file = await open(path, 'wx', 0o600);
  const reader = bytes.getReader();
  try {
    for (let chunk = await reader.read(); !chunk.done; chunk = await reader.read()) {
      size += chunk.value.length;
      if (size > LARGEST) {
        await reader.cancel();
        return bad('too large', 'This file is larger than 100 MB. An MP3 or FLAC of the song is smaller.');
      }
      hash.update(chunk.value);
      await file.writeFile(chunk.value);
    }
    await file.sync();
  } finally {
    await file.close();
  }
  return good({ id: hash.digest('hex'), size });
}
