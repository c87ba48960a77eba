import { firstMp3Frame, id3Length } from './mp3Frame.ts';

export type Format = 'wav' | 'mp3' | 'flac' | 'vorbis' | 'opus' | 'aac';
/** What a file that is no song turned out to be. */
export type Other = 'nothing' | 'text' | 'a film' | 'a picture' | 'an archive' | 'a document' | 'unknown';
export type Sniffed = { audio: true; format: Format } | { audio: false; what: Other };

const audio = (format: Format): Sniffed => ({ audio: true, format });
const other = (what: Other): Sniffed => ({ audio: false, what });

/** Tells what a file is by its bytes; its name does not matter. */
export function sniff(bytes: Uint8Array): Sniffed {
  if (bytes.length === 0) return other('nothing');
  const at = id3Length(bytes);
  if (has(bytes, 0, 'RIFF')) return has(bytes, 8, 'WAVE') ? audio('wav') : other('a film');
  if (has(bytes, at, 'fLaC')) return audio('flac');
  if (has(bytes, 0, 'OggS')) return ogg(bytes);
  if (has(bytes, 4, 'ftyp')) return isFilm(bytes) ? other('a film') : audio('aac');
  if (starts(bytes, [0x1a, 0x45, 0xdf, 0xa3]) || starts(bytes, [0, 0, 1, 0xba])) return other('a film');
  if (isTransportStream(bytes)) return other('a film');
  if (starts(bytes, [0x89, 0x50, 0x4e, 0x47]) || starts(bytes, [0xff, 0xd8, 0xff]) || has(bytes, 0, 'GIF8')) {
    return other('a picture');
  }
  if (has(bytes, 0, '%PDF')) return other('a document');
  if (starts(bytes, [0x50, 0x4b, 3, 4])) return other('an archive');
  if (isText(bytes)) return other('text');
  if (isAdts(bytes, at)) return audio('aac');
  return firstMp3Frame(bytes) < 0 ? other('unknown') : audio('mp3');
}

const starts = (bytes: Uint8Array, with_: number[]): boolean => with_.every((byte, i) => bytes[i] === byte);

function has(bytes: Uint8Array, at: number, word: string): boolean {
  for (let i = 0; i < word.length; i++) if (bytes[at + i] !== word.charCodeAt(i)) return false;
  return true;
}

/** The first page of an Ogg stream names its codec (RFC 3533, RFC 7845). */
function ogg(bytes: Uint8Array): Sniffed {
  const body = 27 + (bytes[26] ?? 0);
  if (has(bytes, body, '\x01vorbis')) return audio('vorbis');
  if (has(bytes, body, 'OpusHead')) return audio('opus');
  if (has(bytes, body, '\x7fFLAC')) return audio('flac');
  return has(bytes, body, '\x80theora') ? other('a film') : other('unknown');
}

/** An ISO base media file (ISO/IEC 14496-12) one of whose track handlers is a video one. */
function isFilm(bytes: Uint8Array): boolean {
  for (let i = bytes.indexOf(0x68); i >= 0 && i < bytes.length - 16; i = bytes.indexOf(0x68, i + 1)) {
    if (has(bytes, i, 'hdlr') && has(bytes, i + 12, 'vide')) return true;
  }
  return false;
}

const isTransportStream = (bytes: Uint8Array): boolean =>
  bytes.length > 564 && [0, 188, 376, 564].every((at) => bytes[at] === 0x47);

/** Two ADTS frames in a row (ISO/IEC 13818-7, 6.2). */
function isAdts(bytes: Uint8Array, at: number): boolean {
  const sync = (i: number) => bytes[i] === 0xff && (bytes[i + 1]! & 0xf6) === 0xf0;
  if (!sync(at)) return false;
  const length = ((bytes[at + 3]! & 3) << 11) | (bytes[at + 4]! << 3) | (bytes[at + 5]! >> 5);
  return length > 7 && sync(at + length);
}

/** The beginning holds no byte that text would not. */
function isText(bytes: Uint8Array): boolean {
  const head = bytes.subarray(0, 1024);
  if (head.some((byte) => byte < 32 && byte !== 9 && byte !== 10 && byte !== 13 && byte !== 12)) return false;
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(head, { stream: true });
    return true;
  } catch {
    return false;
  }
}
