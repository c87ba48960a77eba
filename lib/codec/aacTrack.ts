/** The sound of an M4A file or an ADTS stream, still coded; what the browser's own AAC decoder needs. */
export interface AacTrack {
  rate: number;
  channels: number;
  /** `mp4a.40.2` and the like. */
  codec: string;
  /** The AudioSpecificConfig; null for ADTS, whose frames carry it. */
  config: Uint8Array | null;
  frames: Uint8Array[];
  /** Samples that the coder put before the music, and how many are music; null where the file does not say. */
  skip: number;
  length: number | null;
}

interface Box {
  type: string;
  body: Uint8Array;
}

const view = (bytes: Uint8Array) => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

/** The boxes in a stretch of an ISO base media file (ISO/IEC 14496-12). */
function boxes(bytes: Uint8Array): Box[] {
  const found: Box[] = [];
  const data = view(bytes);
  for (let at = 0; at + 8 <= bytes.length; ) {
    let size = data.getUint32(at);
    let head = 8;
    if (size === 1 && at + 16 <= bytes.length) {
      size = Number(data.getBigUint64(at + 8));
      head = 16;
    } else if (size === 0) size = bytes.length - at;
    if (size < head || at + size > bytes.length) break;
    const type = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
    found.push({ type, body: bytes.subarray(at + head, at + size) });
    at += size;
  }
  return found;
}

/** The first box along a path of types. */
function inside(bytes: Uint8Array, ...path: string[]): Uint8Array | null {
  let here: Uint8Array | null = bytes;
  for (const type of path) here = here && (boxes(here).find((box) => box.type === type)?.body ?? null);
  return here;
}

/** More than a quarter of an hour at the highest rate; what claims more is read no further, since a table may claim four thousand million. */
const MOST_FRAMES = 90_000;

/** Null where this is no AAC that we can read. */
export function aacTrack(bytes: Uint8Array): AacTrack | null {
  try {
    return m4aTrack(bytes) ?? adtsTrack(bytes);
  } catch (error) {
    // A table that points outside the file: the file is damaged.
    if (error instanceof RangeError) return null;
    throw error;
  }
}

function m4aTrack(bytes: Uint8Array): AacTrack | null {
  const moov = inside(bytes, 'moov');
  if (!moov) return null;
  for (const { type, body: trak } of boxes(moov)) {
    if (type !== 'trak') continue;
    const stbl = inside(trak, 'mdia', 'minf', 'stbl');
    const stsd = stbl && inside(stbl, 'stsd');
    const mp4a = stsd && inside(stsd.subarray(8), 'mp4a');
    // 28 bytes of an audio sample entry, then its boxes.
    const esds = mp4a && inside(mp4a.subarray(28), 'esds');
    const config = esds && specificConfig(esds.subarray(4));
    if (!stbl || !config) continue;
    const about = configFacts(config);
    if (!about) continue;
    return { ...about, config, frames: framesOf(bytes, stbl), ...editOf(moov, trak, about.rate) };
  }
  return null;
}

/** Descriptors nest (ISO/IEC 14496-1): 3 the stream, 4 its decoder, 5 the decoder's own configuration. */
function specificConfig(bytes: Uint8Array): Uint8Array | null {
  let at = 0;
  while (at < bytes.length) {
    const tag = bytes[at++];
    let size = 0;
    let byte = 0;
    do {
      byte = bytes[at++] ?? 0;
      size = (size << 7) | (byte & 127);
    } while (byte & 128);
    if (tag === 5) return bytes.subarray(at, at + size);
    at += tag === 3 ? 3 : tag === 4 ? 13 : size;
  }
  return null;
}

const RATES = [96000, 88200, 64000, 48000, 44100, 32000, 24000, 22050, 16000, 12000, 11025, 8000, 7350];

/** Object type, rate and channels (ISO/IEC 14496-3, 1.6.2.1). */
function configFacts(config: Uint8Array): Pick<AacTrack, 'rate' | 'channels' | 'codec'> | null {
  const [a, b] = [config[0] ?? 0, config[1] ?? 0];
  const rate = RATES[((a & 7) << 1) | (b >> 7)];
  const channels = (b >> 3) & 15;
  if (rate === undefined || channels === 0) return null;
  return { rate, channels: channels === 7 ? 8 : channels, codec: `mp4a.40.${a >> 3}` };
}

function framesOf(bytes: Uint8Array, stbl: Uint8Array): Uint8Array[] {
  const [stsz, stsc] = [inside(stbl, 'stsz'), inside(stbl, 'stsc')];
  const [stco, co64] = [inside(stbl, 'stco'), inside(stbl, 'co64')];
  const table = stco ?? co64;
  if (!stsz || !stsc || !table) return [];
  const [sizes, runs, offsets] = [view(stsz), view(stsc), view(table)];
  const [same, count] = [sizes.getUint32(4), sizes.getUint32(8)];
  const most = Math.min(count, MOST_FRAMES);
  const chunks = offsets.getUint32(4);
  const frames: Uint8Array[] = [];
  let run = 0;
  for (let chunk = 0; chunk < chunks && frames.length < most; chunk++) {
    while (run + 1 < runs.getUint32(4) && runs.getUint32(8 + 12 * (run + 1)) <= chunk + 1) run++;
    let at = stco ? offsets.getUint32(8 + 4 * chunk) : Number(offsets.getBigUint64(8 + 8 * chunk));
    for (let n = runs.getUint32(12 + 12 * run); n > 0 && frames.length < most; n--) {
      const size = same || sizes.getUint32(12 + 4 * frames.length);
      frames.push(bytes.subarray(at, at + size));
      at += size;
    }
  }
  return frames;
}

/** What of the decoded sound is music, from the edit list: its start in the track's time scale, its length in the film's. */
function editOf(moov: Uint8Array, trak: Uint8Array, rate: number): Pick<AacTrack, 'skip' | 'length'> {
  const [elst, mvhd, mdhd] = [
    inside(trak, 'edts', 'elst'),
    inside(moov, 'mvhd'),
    inside(trak, 'mdia', 'mdhd'),
  ];
  if (!elst || !mvhd || !mdhd) return { skip: 0, length: null };
  const scaleOf = (box: Uint8Array) => view(box).getUint32(box[0] === 1 ? 20 : 12);
  const data = view(elst);
  const long = elst[0] === 1;
  for (let i = 0, at = 8; i < data.getUint32(4); i++, at += long ? 20 : 12) {
    const duration = long ? Number(data.getBigUint64(at)) : data.getUint32(at);
    const start = long ? Number(data.getBigInt64(at + 8)) : data.getInt32(at + 4);
    if (start < 0) continue;
    const length = duration > 0 ? Math.round((duration * rate) / scaleOf(mvhd)) : null;
    return { skip: Math.round((start * rate) / scaleOf(mdhd)), length };
  }
  return { skip: 0, length: null };
}

/** A stream of frames with a header each (ISO/IEC 13818-7, 6.2). */
function adtsTrack(bytes: Uint8Array): AacTrack | null {
  const isHead = (at: number) => bytes[at] === 0xff && ((bytes[at + 1] ?? 0) & 0xf6) === 0xf0;
  let at = 0;
  while (at < bytes.length && !isHead(at)) at++;
  const rate = RATES[((bytes[at + 2] ?? 0) >> 2) & 15];
  const channels = (((bytes[at + 2] ?? 0) & 1) << 2) | ((bytes[at + 3] ?? 0) >> 6);
  const codec = `mp4a.40.${((bytes[at + 2] ?? 0) >> 6) + 1}`;
  if (rate === undefined || channels === 0) return null;
  const frames: Uint8Array[] = [];
  while (isHead(at) && frames.length < MOST_FRAMES) {
    const size = ((bytes[at + 3]! & 3) << 11) | (bytes[at + 4]! << 3) | (bytes[at + 5]! >> 5);
    if (size < 7 || at + size > bytes.length) break;
    frames.push(bytes.subarray(at, at + size));
    at += size;
  }
  return frames.length > 1 ? { rate, channels, codec, config: null, frames, skip: 0, length: null } : null;
}
