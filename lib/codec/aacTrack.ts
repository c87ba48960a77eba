import { bad, good, type Result } from '../core/result.ts';
import type { AacTrack } from './aacFormat.ts';
import { adtsTrack } from './adts.ts';
import { boxes } from './boxes.ts';
import { m4aTrack } from './m4a.ts';

const DAMAGED = bad(
  'damaged',
  'No music can be read from this file: it seems to be damaged. Copy or download it again.',
);
const CUT = bad('cut off', 'This file ends in the middle of the song. Copy or download it again.');

/** What a file holds of AAC; or in one sentence why it cannot be read. */
export function aacTrack(bytes: Uint8Array): Result<AacTrack> {
  try {
    const isM4a = boxes(bytes.subarray(0, 64))[0]?.type === 'ftyp';
    if (!isM4a) {
      const track = adtsTrack(bytes);
      return track ? good(track) : DAMAGED;
    }
    const track = m4aTrack(bytes);
    if (track) return track;
    return boxes(bytes).some(({ isCut }) => isCut) ? CUT : DAMAGED;
  } catch (error) {
    // A table that points outside itself: the file is damaged.
    if (error instanceof RangeError) return DAMAGED;
    throw error;
  }
}
