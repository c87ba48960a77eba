import { AAC_RATES, type AacTrack, MOST_FRAMES } from './aacFormat.ts';
import { id3Length } from './mp3Frame.ts';

/** A stream of frames with a header each (ISO/IEC 13818-7, 6.2); null where there are not two of them. */
export function adtsTrack(bytes: Uint8Array): AacTrack | null {
  let at = id3Length(bytes);
  while (at < bytes.length && !headAt(bytes, at)) at++;
  const first = headAt(bytes, at);
  if (!first) return null;
  const { profile, index, channels } = first;
  const rate = AAC_RATES[index];
  if (rate === undefined || channels === 0) return null;
  const frames: Uint8Array[] = [];
  let missing = 0;
  while (frames.length < MOST_FRAMES) {
    const head = headAt(bytes, at);
    if (!head) break;
    if (at + head.size > bytes.length) {
      missing = 1;
      break;
    }
    frames.push(bytes.subarray(at + head.length, at + head.size));
    at += head.size;
  }
  if (frames.length < 2) return null;
  // Two bytes: the object type, which is the profile and one, the rate's index, the channels (14496-3, 1.6.2.1).
  const config = Uint8Array.of(((profile + 1) << 3) | (index >> 1), ((index & 1) << 7) | (channels << 3));
  return { config, rate, channels: channels === 7 ? 8 : channels, frames, missing, music: null };
}

function headAt(bytes: Uint8Array, at: number) {
  if (at + 7 > bytes.length || bytes[at] !== 0xff || (bytes[at + 1]! & 0xf6) !== 0xf0) return null;
  const size = ((bytes[at + 3]! & 3) << 11) | (bytes[at + 4]! << 3) | (bytes[at + 5]! >> 5);
  const length = bytes[at + 1]! & 1 ? 7 : 9;
  if (size <= length) return null;
  const channels = ((bytes[at + 2]! & 1) << 2) | (bytes[at + 3]! >> 6);
  return { profile: bytes[at + 2]! >> 6, index: (bytes[at + 2]! >> 2) & 15, channels, size, length };
}
