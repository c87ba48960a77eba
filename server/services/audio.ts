import { randomBytes } from 'node:crypto';
import { mkdir, readdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Services } from '../../lib/access/services.ts';
import { type Format, type Other, sniff } from '../../lib/codec/sniff.ts';
import { SOUND_LIMITS, unpacksTo } from '../../lib/codec/unpacked.ts';
import { bad, good } from '../../lib/core/result.ts';
import { megabytes, recordingLimits } from '../../lib/protocol/recordings.ts';
import type { Store } from '../../lib/store/store.ts';
import { receive } from './receive.ts';

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

const { most, mostBytes, atOnce, atOnceToBoard } = recordingLimits;
const TOO_LONG = bad(
  'too long',
  `This file holds more than ${SOUND_LIMITS.most / 60} minutes of sound. Please take the song alone.`,
);
const BUSY = bad('busy', 'Other files are being sent just now. Please try again in a minute.');
const FULL = bad(
  'full',
  `A board holds ${most} recordings, ${megabytes(mostBytes)} together, and this would be more. A new board begins empty.`,
);

type AudioService = Services['audio'] & {
  /** Removes what no board has any more, and what a crash left over. */
  sweep(): Promise<void>;
};

/** Files by the SHA-256 of their bytes. `incoming` is a folder of this process alone, for uploads on their way. */
export function audioService(store: Store, incoming: string): AudioService {
  /** Files on their way, by name, and the board they are for. */
  const receiving = new Map<string, string>();
  /** The same recording once more is no more than before. */
  const hasSpaceFor = async (board: string, id: string, size: number): Promise<boolean> => {
    const others = (await store.files.ofBoard(board)).filter((file) => file.id !== id);
    return others.length < most && others.reduce((sum, file) => sum + file.bytes, size) <= mostBytes;
  };
  return {
    async keep(board, bytes) {
      const toBoard = [...receiving.values()].filter((one) => one === board).length;
      if (receiving.size >= atOnce || toBoard >= atOnceToBoard) return BUSY;
      const name = `${randomBytes(8).toString('hex')}.part`;
      const part = join(incoming, name);
      receiving.set(name, board);
      try {
        await mkdir(incoming, { recursive: true, mode: 0o700 });
        const received = await receive(bytes, part);
        if (!received.ok) return received;
        const file = await readFile(part);
        const kind = sniff(file);
        if (!kind.audio) return bad('not audio', words[kind.what]);
        if (unpacksTo(file, kind.format, SOUND_LIMITS) !== null) return TOO_LONG;
        const { id, size } = received.value;
        if (!(await hasSpaceFor(board, id, size))) return FULL;
        await store.files.add(board, { id, bytes: size, type: types[kind.format] }, part);
        return good({ id, bytes: size });
      } finally {
        await rm(part, { force: true });
        receiving.delete(name);
      }
    },
    async of(board, id) {
      const file = await store.files.of(board, id);
      if (!file)
        return bad(
          'not found',
          'This recording is not here. Please choose its file once more on the song page.',
        );
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
