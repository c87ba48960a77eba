import { type AacTrack, MOST_FRAMES } from './aacFormat.ts';
import { inside, view } from './boxes.ts';

type Coded = Pick<AacTrack, 'frames' | 'missing'>;

/** A frame as far as it is in the file; one that begins or ends beyond it is missing. */
export function addFrame(coded: Coded, bytes: Uint8Array, at: number, size: number): void {
  if (at + size <= bytes.length) coded.frames.push(bytes.subarray(at, at + size));
  else coded.missing += 1;
}

export const hasRoom = ({ frames, missing }: Coded): boolean => frames.length + missing < MOST_FRAMES;

/** Frames by the table of samples (ISO/IEC 14496-12, 8.7); null where it is empty, as it is where they lie in fragments. */
export function tableFrames(bytes: Uint8Array, stbl: Uint8Array): Coded | null {
  const [stsz, stsc] = [inside(stbl, 'stsz'), inside(stbl, 'stsc')];
  const [stco, co64] = [inside(stbl, 'stco'), inside(stbl, 'co64')];
  const table = stco ?? co64;
  if (!stsz || !stsc || !table) return null;
  const [sizes, runs, offsets] = [view(stsz), view(stsc), view(table)];
  const [same, count] = [sizes.getUint32(4), sizes.getUint32(8)];
  const chunks = offsets.getUint32(4);
  if (count === 0 || chunks === 0) return null;
  const coded: Coded = { frames: [], missing: 0 };
  let run = 0;
  let number = 0;
  for (let chunk = 0; chunk < chunks && number < count && hasRoom(coded); chunk++) {
    while (run + 1 < runs.getUint32(4) && runs.getUint32(8 + 12 * (run + 1)) <= chunk + 1) run++;
    let at = stco ? offsets.getUint32(8 + 4 * chunk) : Number(offsets.getBigUint64(8 + 8 * chunk));
    for (let n = runs.getUint32(12 + 12 * run); n > 0 && number < count && hasRoom(coded); n--) {
      const size = same || sizes.getUint32(12 + 4 * number);
      addFrame(coded, bytes, at, size);
      at += size;
      number += 1;
    }
  }
  return coded;
}
