/** An MPEG audio layer III frame's header (ISO/IEC 11172-3, 2.4.2.3; 13818-3 for the lower rates). */
export interface Mp3Frame {
  rate: number;
  channels: 1 | 2;
  /** Samples a channel in a frame: 1152, or 576 at the lower rates. */
  samples: number;
  /** Bytes of the whole frame. */
  bytes: number;
  /** Bytes of side information that follow the header (and its checksum). */
  side: number;
  /** A two-byte checksum follows the header. */
  checked: boolean;
}

const BITRATES = [
  [0, 32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320],
  [0, 8, 16, 24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160],
];
const RATES = [44100, 48000, 32000];

/** The layer III header at `at`, or null where there is none. */
export function mp3FrameAt(bytes: Uint8Array, at: number): Mp3Frame | null {
  const [a = 0, b = 0, c = 0, d = 0] = bytes.subarray(at, at + 4);
  const version = (b >> 3) & 3; // 3: MPEG-1, 2: MPEG-2, 0: its extension to lower rates
  const layer = (b >> 1) & 3; // 1: layer III
  const rate = RATES[(c >> 2) & 3];
  const kbits = BITRATES[version === 3 ? 0 : 1]![c >> 4];
  if (a !== 0xff || b >> 5 !== 7 || version === 1 || layer !== 1 || !rate || !kbits) return null;
  const channels = d >> 6 === 3 ? 1 : 2;
  const first = version === 3;
  const samples = first ? 1152 : 576;
  const real = first ? rate : version === 2 ? rate / 2 : rate / 4;
  const padding = (c >> 1) & 1;
  return {
    ...{ rate: real, channels, samples },
    bytes: Math.floor(((samples / 8) * kbits * 1000) / real) + padding,
    side: first ? (channels === 1 ? 17 : 32) : channels === 1 ? 9 : 17,
    checked: (b & 1) === 0,
  };
}

/** Bytes of the ID3v2 tag at the beginning; 0 without one. */
export function id3Length(bytes: Uint8Array): number {
  if (bytes[0] !== 0x49 || bytes[1] !== 0x44 || bytes[2] !== 0x33 || bytes.length < 10) return 0;
  const [a = 0, b = 0, c = 0, d = 0] = bytes.subarray(6, 10);
  const footer = (bytes[5]! & 0x10) === 0 ? 0 : 10;
  return 10 + footer + ((a & 127) << 21) + ((b & 127) << 14) + ((c & 127) << 7) + (d & 127);
}

/** Where the first of three frames in a row begins, within `reach` bytes after the tag; -1 for none. */
export function firstMp3Frame(bytes: Uint8Array, reach = 65_536): number {
  const from = id3Length(bytes);
  for (let at = from; at < Math.min(bytes.length - 4, from + reach); at++) {
    const frame = bytes[at] === 0xff ? mp3FrameAt(bytes, at) : null;
    const second = frame && mp3FrameAt(bytes, at + frame.bytes);
    const third = second && mp3FrameAt(bytes, at + frame.bytes + second.bytes);
    if (third && third.rate === frame.rate && third.samples === frame.samples) return at;
  }
  return -1;
}

/** Frames that the file's Xing or Info header promises; null without one. */
export function promisedFrames(bytes: Uint8Array, at: number): number | null {
  const frame = mp3FrameAt(bytes, at);
  if (!frame) return null;
  const tag = at + 4 + (frame.checked ? 2 : 0) + frame.side;
  const name = String.fromCharCode(...bytes.subarray(tag, tag + 4));
  if ((name !== 'Xing' && name !== 'Info') || (bytes[tag + 7]! & 1) === 0) return null;
  return new DataView(bytes.buffer, bytes.byteOffset).getUint32(tag + 8);
}
