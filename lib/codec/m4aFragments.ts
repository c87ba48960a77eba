import type { AacTrack } from './aacFormat.ts';
import { boxes, inside, view } from './boxes.ts';
import { addFrame, hasRoom } from './m4aTable.ts';

/** Frames of a file in fragments, as streams are saved (ISO/IEC 14496-12, 8.8): each `moof` says where its own lie. */
export function fragmentedFrames(
  bytes: Uint8Array,
  moov: Uint8Array,
  trak: Uint8Array,
): Pick<AacTrack, 'frames' | 'missing'> {
  const coded: Pick<AacTrack, 'frames' | 'missing'> = { frames: [], missing: 0 };
  const tkhd = inside(trak, 'tkhd');
  const track = tkhd ? view(tkhd).getUint32(tkhd[0] === 1 ? 20 : 12) : 1;
  const usual = usualSize(moov, track);
  for (const { type, body, isCut } of boxes(bytes)) {
    // What would have followed, nobody knows.
    if (isCut) coded.missing = Number.POSITIVE_INFINITY;
    if (type !== 'moof') continue;
    const moof = body.byteOffset - bytes.byteOffset - 8;
    for (const traf of boxes(body)) {
      if (traf.type === 'traf') addRuns(coded, bytes, traf.body, { track, usual, moof });
    }
  }
  return coded;
}

/** Bytes of a frame where its fragment does not say (`trex`, 8.8.3). */
function usualSize(moov: Uint8Array, track: number): number {
  const mvex = inside(moov, 'mvex');
  const trex =
    mvex && boxes(mvex).find((box) => box.type === 'trex' && view(box.body).getUint32(4) === track);
  return trex ? view(trex.body).getUint32(16) : 0;
}

/** One `traf`: a header with optional fields by its flags (8.8.7), and runs of frames, likewise (8.8.8). */
function addRuns(
  coded: Pick<AacTrack, 'frames' | 'missing'>,
  bytes: Uint8Array,
  traf: Uint8Array,
  { track, usual, moof }: { track: number; usual: number; moof: number },
): void {
  const tfhd = inside(traf, 'tfhd');
  if (!tfhd || view(tfhd).getUint32(4) !== track) return;
  const head = view(tfhd);
  const flags = head.getUint32(0) & 0xffffff;
  let at = 8;
  let base = moof;
  if (flags & 0x01) {
    base = Number(head.getBigUint64(at));
    at += 8;
  }
  if (flags & 0x02) at += 4;
  if (flags & 0x08) at += 4;
  const size = flags & 0x10 ? head.getUint32(at) : usual;
  let next = base;
  for (const { type, body } of boxes(traf)) {
    if (type !== 'trun') continue;
    const run = view(body);
    const has = run.getUint32(0) & 0xffffff;
    let field = 8;
    if (has & 0x001) {
      next = base + run.getInt32(field);
      field += 4;
    }
    if (has & 0x004) field += 4;
    const before = has & 0x100 ? 4 : 0;
    const step = before + (has & 0x200 ? 4 : 0) + (has & 0x400 ? 4 : 0) + (has & 0x800 ? 4 : 0);
    for (let n = run.getUint32(4); n > 0 && hasRoom(coded); n--, field += step) {
      const own = has & 0x200 ? run.getUint32(field + before) : size;
      addFrame(coded, bytes, next, own);
      next += own;
    }
  }
}
