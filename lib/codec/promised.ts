import { firstMp3Frame, mp3FrameAt, promisedFrames } from './mp3Frame.ts';
import type { Format } from './sniff.ts';
import { wavSeconds } from './wavFacts.ts';

/** Seconds that a file's own header says it holds; null where it says nothing. */
export function promisedSeconds(bytes: Uint8Array, format: Format): number | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (format === 'wav') return wavSeconds(bytes);
  if (format === 'flac') return flacSeconds(bytes, view);
  if (format !== 'mp3') return null;
  const at = firstMp3Frame(bytes);
  const frame = at < 0 ? null : mp3FrameAt(bytes, at);
  const frames = at < 0 ? null : promisedFrames(bytes, at);
  return frame && frames ? (frames * frame.samples) / frame.rate : null;
}

/** Channels to keep of what a decoder gives: the MP3 decoder makes two of one. Null keeps all. */
export function soundChannels(bytes: Uint8Array, format: Format): number | null {
  if (format !== 'mp3') return null;
  const at = firstMp3Frame(bytes);
  return at < 0 ? null : (mp3FrameAt(bytes, at)?.channels ?? null);
}

const word = (bytes: Uint8Array, at: number): string => String.fromCharCode(...bytes.subarray(at, at + 4));

/** STREAMINFO (RFC 9639, 8.2): 20 bits of rate and 36 bits of samples. Not looked for within Ogg. */
function flacSeconds(bytes: Uint8Array, view: DataView): number | null {
  if (word(bytes, 0) !== 'fLaC' || bytes.length < 26) return null;
  const rate = view.getUint32(18) >>> 12;
  const samples = (bytes[21]! & 15) * 2 ** 32 + view.getUint32(22);
  return rate && samples ? samples / rate : null;
}

/** Whether an Ogg file stops before the page that is marked as its last (RFC 3533, section 6). */
export function endsInThePage(bytes: Uint8Array): boolean {
  for (let at = bytes.length - 27; at >= 0; at--) {
    if (bytes[at] !== 0x4f || word(bytes, at) !== 'OggS' || bytes[at + 4] !== 0) continue;
    const table = bytes.subarray(at + 27, at + 27 + bytes[at + 26]!);
    const end = at + 27 + table.length + table.reduce((sum, size) => sum + size, 0);
    return end > bytes.length || (bytes[at + 5]! & 4) === 0;
  }
  return true;
}
