import { encodeWav } from '../../lib/codec/wav.ts';
import type { Samples } from '../../lib/core/signal/samples.ts';
import { sine } from './synth.ts';

/** A file as somebody would choose it: its name may lie. Structurally what the browser tests hand to a file field. */
export interface GivenFile {
  name: string;
  mimeType: string;
  buffer: Buffer;
}

const given = (name: string, mimeType: string, bytes: Uint8Array | string): GivenFile => ({
  name,
  mimeType,
  buffer: Buffer.from(bytes),
});

export const wavFile = (name: string, samples: Samples): GivenFile =>
  given(name, 'audio/wav', encodeWav(samples, 16));

export const emptyFile = (): GivenFile => given('empty.mp3', 'audio/mpeg', '');

export const textNamedMp3 = (): GivenFile =>
  given('our song.mp3', 'audio/mpeg', 'Dear both, the song is on its way.\n'.repeat(40));

export const silentWav = (seconds = 40): GivenFile =>
  wavFile('silence.wav', { rate: 8000, channels: [new Float32Array(seconds * 8000)] });

export const shortClip = (seconds = 3): GivenFile =>
  wavFile('clip.wav', sine(440, 0.5, seconds, 22050, 0, 1));

/** The first part of a sound file whose header promises all of it. */
export const cutOff = (file: GivenFile, share = 0.5): GivenFile => ({
  ...file,
  name: `half of ${file.name}`,
  buffer: file.buffer.subarray(0, Math.floor(file.buffer.length * share)),
});

/**
 * An MP3 of the given minutes that is small: frames of silence, MPEG 2.5 layer III, mono, 8 kHz, 8 kbit/s (ISO/IEC 13818-3: 576
 * samples and 72 bytes a frame), 60 KB a minute.
 */
export function longMp3(minutes = 20): GivenFile {
  const frame = new Uint8Array(72);
  frame.set([0xff, 0xe3, 0x18, 0xc0]);
  const count = Math.ceil((minutes * 60 * 8000) / 576);
  const bytes = new Uint8Array(count * frame.length);
  for (let i = 0; i < count; i++) bytes.set(frame, i * frame.length);
  return given('the whole evening.mp3', 'audio/mpeg', bytes);
}

/** The beginning of an MP4 with a video track: boxes of ISO/IEC 14496-12 down to the track's handler. */
export function mp4Film(): GivenFile {
  const handler = box('hdlr', bytesOf([0, 0, 0, 0, 0, 0, 0, 0]), text('vide'), bytesOf(Array(13).fill(0)));
  const movie = box('moov', box('trak', box('mdia', handler)));
  const kind = box('ftyp', text('isom'), bytesOf([0, 0, 2, 0]), text('isomiso2mp41'));
  return given('the party.mp4', 'video/mp4', joined(kind, movie, box('mdat', new Uint8Array(4096))));
}

/** The beginning of a WebM file: an EBML header (RFC 8794) whose document type is "webm". */
export function webmFilm(): GivenFile {
  const type = joined(bytesOf([0x42, 0x82, 0x84]), text('webm'));
  const head = joined(bytesOf([0x1a, 0x45, 0xdf, 0xa3, 0x80 | type.length]), type);
  const segment = joined(bytesOf([0x18, 0x53, 0x80, 0x67, 0xff]), new Uint8Array(4096));
  return given('the party.webm', 'video/webm', joined(head, segment));
}

const bytesOf = (list: number[]): Uint8Array => Uint8Array.from(list);
const text = (words: string): Uint8Array => new TextEncoder().encode(words);

function joined(...parts: Uint8Array[]): Uint8Array {
  return new Uint8Array(Buffer.concat(parts));
}

/** Size in four bytes, name, contents. */
function box(name: string, ...parts: Uint8Array[]): Uint8Array {
  const inside = joined(...parts);
  const size = new Uint8Array(4);
  new DataView(size.buffer).setUint32(0, inside.length + 8);
  return joined(size, text(name), inside);
}
