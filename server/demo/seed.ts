import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Services } from '../../lib/access/services.ts';
import { decode } from '../../lib/codec/decode.ts';
import { encodeImprint, imprintOf } from '../../lib/core/compare/imprint.ts';
import type { Result } from '../../lib/core/result.ts';
import { listen } from '../../lib/core/song/listen.ts';
import { wholeMicros } from '../../lib/core/units.ts';
import { dayIn } from '../../lib/zone/dayIn.ts';
import { DEMO_ZONE, demoBoard, type HeardSong } from './board.ts';
import { facts } from './song.ts';

/** Makes the demo board, with its recording, and answers with its id. The server runs in the project's folder. */
export async function seedDemo(services: Pick<Services, 'boards' | 'audio'>): Promise<string> {
  const bytes = await readFile(join('public', 'demo', `${facts.file}.mp3`));
  const board = sure(await services.boards.makeFrom(demoBoard(await heardSong(bytes), dayIn(DEMO_ZONE))));
  sure(await services.audio.keep(board, new Blob([bytes]).stream()));
  return board;
}

/** Listens to the file as any other is listened to. */
export async function heardSong(bytes: Uint8Array): Promise<HeardSong> {
  const { samples, rate, channels, duration, format } = sure(await decode(bytes));
  const id = createHash('sha256').update(bytes).digest('hex');
  return {
    samples,
    listening: sure(listen(samples)),
    imprint: encodeImprint(imprintOf(samples)),
    recording: {
      id,
      duration: wholeMicros(duration),
      rate,
      channels,
      bytes: bytes.length,
      format,
      files: [{ file: id, from: 0 }],
    },
  };
}

/** The demonstration is ours: where a step of it fails, something is broken. */
function sure<T>(result: Result<T>): T {
  if (result.ok) return result.value;
  throw new Error(`the demonstration cannot be made: ${result.problem.sentence}`);
}
