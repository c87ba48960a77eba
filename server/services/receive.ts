import { createHash } from 'node:crypto';
import { type FileHandle, open } from 'node:fs/promises';
import { bad, good, type Result } from '../../lib/core/result.ts';
import { megabytes, recordingLimits } from '../../lib/protocol/recordings.ts';

type Chunk = ReadableStreamReadResult<Uint8Array>;

const TOO_SLOW = bad(
  'too slow',
  'The file came too slowly, or stopped coming. Please try again on a better line.',
);
const TOO_LARGE = bad(
  'too large',
  `This file is larger than ${megabytes(recordingLimits.largest)}. An MP3 or FLAC of the song is smaller.`,
);

/**
 * Streams an upload to a file, so that it never lies in memory as it comes in; durable when it resolves. Problems: `too large`,
 * and `too slow` for one that would hold its place for nothing.
 */
export async function receive(
  bytes: ReadableStream<Uint8Array>,
  path: string,
  pauseMs = recordingLimits.longestPauseS * 1000,
): Promise<Result<{ id: string; size: number }>> {
  const file = await open(path, 'wx', 0o600);
  const reader = bytes.getReader();
  try {
    const received = await receiveTo(file, reader, pauseMs);
    // What is still on its way is let go, whoever waits for an end of it.
    if (!received.ok) reader.cancel().catch(() => undefined);
    return received;
  } finally {
    await file.close();
  }
}

async function receiveTo(
  file: FileHandle,
  reader: ReadableStreamDefaultReader<Uint8Array>,
  pauseMs: number,
): Promise<Result<{ id: string; size: number }>> {
  const hash = createHash('sha256');
  const began = performance.now();
  let size = 0;
  for (;;) {
    const chunk = await inTime(reader.read(), pauseMs);
    const seconds = (performance.now() - began - pauseMs) / 1000;
    if (chunk === null || size < seconds * recordingLimits.slowest) return TOO_SLOW;
    if (chunk.done) break;
    size += chunk.value.length;
    if (size > recordingLimits.largest) return TOO_LARGE;
    hash.update(chunk.value);
    await file.writeFile(chunk.value);
  }
  await file.sync();
  return good({ id: hash.digest('hex'), size });
}

/** Null when nothing came in that time. */
async function inTime(reading: Promise<Chunk>, ms: number): Promise<Chunk | null> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<null>((resolve) => {
    timer = setTimeout(() => resolve(null), ms);
  });
  // A line that breaks off after that is nobody's matter any more.
  reading.catch(() => undefined);
  return Promise.race([reading, late]).finally(() => clearTimeout(timer));
}
