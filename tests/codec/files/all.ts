import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Format } from '../../../lib/codec/sniff.ts';
import { PASSAGE } from './passage.ts';

export interface KeptFile {
  name: string;
  format: Format;
  rate: number;
  channels: number;
  /** Samples a channel; those of a stream that does not say where its music begins or ends are more than the passage. */
  length: number;
  /** Samples before the music. */
  before: number;
}

const kept = (name: string, format: Format, rate: number, channels: number, seconds = PASSAGE): KeptFile => ({
  ...{ name, format, rate, channels },
  length: Math.round(seconds * rate),
  before: 0,
});
/** Of a bare stream: whole frames, with what the coder put before and after. */
const bare = (file: KeptFile, length: number, before: number): KeptFile => ({ ...file, length, before });

/** Every coded file beside this one that is to be read, and what is in it (`make.ts` says how each was made). */
export const keptFiles: readonly KeptFile[] = [
  kept('lc-44100-stereo.m4a', 'aac', 44100, 2),
  kept('lc-22050-mono.m4a', 'aac', 22050, 1),
  kept('lc-8000-mono.m4a', 'aac', 8000, 1),
  kept('lc-96000-stereo.m4a', 'aac', 96000, 2),
  bare(kept('lc-48000-fragments.m4a', 'aac', 48000, 2), 71 * 1024, 0),
  bare(kept('lc-44100-stereo.aac', 'aac', 44100, 2), 66 * 1024, 1024),
  kept('he-44100-stereo.m4a', 'aac', 44100, 2),
  kept('he2-48000-stereo.m4a', 'aac', 48000, 2),
  bare(kept('he-48000-stereo.aac', 'aac', 48000, 2), 37 * 2048, 3018),
  kept('44100-stereo.mp3', 'mp3', 44100, 2),
  kept('22050-mono.mp3', 'mp3', 22050, 1),
  kept('48000-variable.mp3', 'mp3', 48000, 2),
  kept('32000-mono.flac', 'flac', 32000, 1),
  kept('96000-stereo.flac', 'flac', 96000, 2, 0.25),
  kept('16000-stereo.oga', 'flac', 16000, 2),
  kept('44100-stereo.ogg', 'vorbis', 44100, 2),
  kept('22050-mono.ogg', 'vorbis', 22050, 1),
  kept('48000-stereo.opus', 'opus', 48000, 2),
  kept('48000-mono.opus', 'opus', 48000, 1),
];

export const pathOf = (name: string): string => join(import.meta.dirname, name);
export const bytesOf = async (name: string): Promise<Uint8Array> =>
  new Uint8Array(await readFile(pathOf(name)));
