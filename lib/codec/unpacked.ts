import { AAC_FRAME } from './aacFormat.ts';
import { aacTrack } from './aacTrack.ts';
import { firstMp3Frame, id3Length, mp3FrameAt } from './mp3Frame.ts';
import { oggPackets } from './ogg.ts';
import { promisedSeconds } from './promised.ts';
import type { Format } from './sniff.ts';

/** How much sound a file may unpack to. */
export interface SoundLimits {
  /** Seconds of the longest song. */
  most: number;
  /** Bytes of all its channels as 32-bit floats: a quarter of an hour at 96 kHz fits. */
  decodedBytes: number;
}
export const SOUND_LIMITS: SoundLimits = { most: 15 * 60, decodedBytes: 800 * 1024 * 1024 };

/** A coded stream: samples a channel that each of its frames holds, by their headers. */
interface Stream {
  rate: number;
  channels: number;
  frames: Iterable<number>;
  /** How many times too much the count may be. */
  slack: number;
}

/**
 * Whether a file unpacks to more than there is room for, told from its frames' headers without decoding any: a day of silence fits
 * into 164 KB of FLAC and would fill 5 GB of memory in the decoder's first step. What a file says of its own length is not believed.
 * Null where it fits, and where nothing can be read: then decoding says what is wrong.
 */
export function unpacksTo(
  bytes: Uint8Array,
  format: Format,
  { most, decodedBytes }: SoundLimits,
): 'too long' | 'too much' | null {
  const stream = streamOf(bytes, format);
  if (stream === null) return null;
  const { rate, channels, frames, slack } = stream;
  let samples = 0;
  for (const length of frames) {
    samples += length / slack;
    if (samples > (most + 1) * rate) return 'too long';
    if (samples * channels * 4 > decodedBytes) return 'too much';
  }
  return null;
}

function streamOf(bytes: Uint8Array, format: Format): Stream | null {
  switch (format) {
    case 'wav':
      return wavStream(bytes);
    case 'mp3':
      return mp3Stream(bytes);
    case 'flac':
      return flacStream(bytes);
    case 'opus':
      return opusStream(bytes);
    case 'vorbis':
      return vorbisStream(bytes);
    case 'aac': {
      const track = aacTrack(bytes);
      return track.ok ? { ...track.value, frames: track.value.frames.map(() => AAC_FRAME), slack: 1 } : null;
    }
  }
}

/** What is not packed cannot unpack to much; but a false rate makes hours of it. */
function wavStream(bytes: Uint8Array): Stream | null {
  const seconds = promisedSeconds(bytes, 'wav');
  return seconds === null ? null : { rate: 1, channels: 0, frames: [seconds], slack: 1 };
}

function mp3Stream(bytes: Uint8Array): Stream | null {
  const first = firstMp3Frame(bytes);
  const frame = first < 0 ? null : mp3FrameAt(bytes, first);
  return frame && { ...frame, frames: mp3Frames(bytes, first), slack: 1 };
}

function* mp3Frames(bytes: Uint8Array, first: number): Generator<number> {
  for (let at = first; at >= 0 && at < bytes.length; ) {
    const frame = mp3FrameAt(bytes, at);
    if (frame) yield frame.samples;
    at = frame ? at + frame.bytes : bytes.indexOf(0xff, at + 1);
  }
}

/** STREAMINFO lies behind `fLaC` (RFC 9639, 8.2), in Ogg behind 9 bytes more (RFC 9639, 10.1). */
function flacStream(bytes: Uint8Array): Stream | null {
  const isOgg = bytes[0] === 0x4f;
  const [first] = isOgg ? oggPackets(bytes) : [];
  const info = isOgg ? (first?.head.subarray(9) ?? bytes) : bytes.subarray(id3Length(bytes));
  if (info.length < 26) return null;
  const rate = ((info[18]! << 16) | (info[19]! << 8) | info[20]!) >>> 4;
  const channels = ((info[20]! >> 1) & 7) + 1;
  // Noise may look like a header once in 2^22 bytes, and by its longest a header claims a second and a half.
  return {
    rate: rate || 44_100,
    channels,
    frames: isOgg ? oggFlacFrames(bytes) : flacFrames(bytes),
    slack: 1.05,
  };
}

function* flacFrames(bytes: Uint8Array): Generator<number> {
  for (let at = bytes.indexOf(0xff); at >= 0; at = bytes.indexOf(0xff, at + 1)) {
    const samples = flacFrameAt(bytes, at);
    if (samples !== null) yield samples;
  }
}

function* oggFlacFrames(bytes: Uint8Array): Generator<number> {
  for (const { head } of oggPackets(bytes)) {
    const samples = flacFrameAt(head, 0);
    if (samples !== null) yield samples;
  }
}

/** Samples a channel of the frame whose header is here (RFC 9639, 9.1); null where there is none, or its checksum is wrong. */
function flacFrameAt(bytes: Uint8Array, at: number): number | null {
  if (bytes[at] !== 0xff || (bytes[at + 1]! & 0xfe) !== 0xf8) return null;
  const [size, rate] = [bytes[at + 2]! >> 4, bytes[at + 2]! & 15];
  if (size === 0 || rate === 15) return null;
  // The frame's or its first sample's number, written as UTF-8 writes letters.
  const lead = bytes[at + 4] ?? 0;
  const ones = Math.clz32(~(lead << 24));
  let end = at + 4 + Math.max(1, ones);
  const sized = end;
  end += size === 6 ? 1 : size === 7 ? 2 : 0;
  end += rate === 12 ? 1 : rate > 12 ? 2 : 0;
  if (end >= bytes.length || crc8(bytes, at, end) !== bytes[end]) return null;
  if (size === 1) return 192;
  if (size <= 5) return 576 << (size - 2);
  if (size === 6) return bytes[sized]! + 1;
  if (size === 7) return ((bytes[sized]! << 8) | bytes[sized + 1]!) + 1;
  return 256 << (size - 8);
}

/** With polynomial 0x07, from 0 (RFC 9639, 9.1.8). */
function crc8(bytes: Uint8Array, from: number, to: number): number {
  let crc = 0;
  for (let at = from; at < to; at++) {
    crc ^= bytes[at]!;
    for (let bit = 0; bit < 8; bit++) crc = crc & 0x80 ? ((crc << 1) ^ 0x07) & 0xff : crc << 1;
  }
  return crc;
}

/** Opus is always decoded at 48 kHz (RFC 7845, 5.1). */
function opusStream(bytes: Uint8Array): Stream | null {
  const [first] = oggPackets(bytes);
  return first ? { rate: 48_000, channels: first.head[9] || 2, frames: opusFrames(bytes), slack: 1 } : null;
}

/** A packet's first byte tells how long its frames are and how many there are (RFC 6716, 3.1 and 3.2). */
function* opusFrames(bytes: Uint8Array): Generator<number> {
  let packet = 0;
  for (const { head } of oggPackets(bytes)) {
    packet += 1;
    // OpusHead and OpusTags.
    if (packet <= 2 || head.length === 0) continue;
    const toc = head[0]!;
    const config = toc >> 3;
    const ms =
      config < 12
        ? [10, 20, 40, 60][config & 3]!
        : config < 16
          ? [10, 20][config & 1]!
          : [2.5, 5, 10, 20][config & 3]!;
    const count = [1, 2, 2, (head[1] ?? 0) & 63][toc & 3]!;
    // More than 120 ms is no packet of the standard.
    yield Math.min(120, ms * count) * 48;
  }
}

/**
 * A packet gives at most half of the longer block (Vorbis I specification, 4.3.8). Which block it has stands among its bits in a way
 * that only the whole set-up tells, so music of many short blocks counts for several times its length.
 */
function vorbisStream(bytes: Uint8Array): Stream | null {
  const [first] = oggPackets(bytes);
  if (!first || first.head.length < 30) return null;
  const { head } = first;
  const rate = new DataView(head.buffer).getUint32(12, true);
  const longest = 2 ** (head[28]! >> 4);
  return rate === 0
    ? null
    : { rate, channels: head[11]!, frames: vorbisFrames(bytes, longest / 2), slack: 16 };
}

function* vorbisFrames(bytes: Uint8Array, samples: number): Generator<number> {
  for (const _ of oggPackets(bytes)) yield samples;
}
