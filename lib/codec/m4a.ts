import { bad, good, type Result } from '../core/result.ts';
import { AAC_RATES, type AacTrack, type Music } from './aacFormat.ts';
import { boxes, inside, view } from './boxes.ts';
import { fragmentedFrames } from './m4aFragments.ts';
import { tableFrames } from './m4aTable.ts';
import { taggedMusic } from './m4aTag.ts';

/** What else lies in such files, by the type of its entry, as people call it. */
const OTHERS: Record<string, string> = {
  alac: 'Apple Lossless',
  'ac-3': 'Dolby Digital',
  'ec-3': 'Dolby Digital Plus',
  'ac-4': 'Dolby AC-4',
  Opus: 'Opus in an M4A',
  fLaC: 'FLAC in an M4A',
  '.mp3': 'MP3 in an M4A',
};
const otherCodec = (name: string) =>
  bad(
    'other codec',
    `This M4A holds ${name}, which cannot be read here. Export it as WAV or MP3 and choose that.`,
  );
const PROTECTED = bad(
  'protected',
  'This M4A is protected against copying and cannot be read here. Choose a file of the song without protection.',
);

/** The first track of sound in an M4A file; null where there is none. */
export function m4aTrack(bytes: Uint8Array): Result<AacTrack> | null {
  const moov = inside(bytes, 'moov');
  if (!moov) return null;
  for (const { type, body: trak } of boxes(moov)) {
    if (type !== 'trak') continue;
    const stbl = inside(trak, 'mdia', 'minf', 'stbl');
    const stsd = stbl && inside(stbl, 'stsd');
    const entry = stsd && boxes(stsd.subarray(8))[0];
    if (!stbl || !entry || isOfOther(trak)) continue;
    if (entry.type === 'drms' || entry.type === 'enca') return PROTECTED;
    if (entry.type !== 'mp4a') return otherCodec(OTHERS[entry.type] ?? 'sound of another kind');
    const esds = esdsOf(entry.body);
    const stream = esds && streamOf(esds.subarray(4));
    if (!stream) continue;
    // ISO/IEC 14496-1, table 5.
    if (stream.kind === 0x69 || stream.kind === 0x6b) return otherCodec(OTHERS['.mp3']!);
    const facts = stream.config && configFacts(stream.config);
    if (!stream.config || !facts) continue;
    const coded = tableFrames(bytes, stbl) ?? fragmentedFrames(bytes, moov, trak);
    return good({
      config: stream.config,
      ...facts,
      ...coded,
      music: editOf(moov, trak) ?? taggedMusic(moov),
    });
  }
  return null;
}

/** A track of pictures or words. */
function isOfOther(trak: Uint8Array): boolean {
  const hdlr = inside(trak, 'mdia', 'hdlr');
  return hdlr !== null && String.fromCharCode(...hdlr.subarray(8, 12)) !== 'soun';
}

/** Behind 28 bytes of an audio sample entry; in QuickTime's versions 1 and 2 behind 16 or 36 more, and in a box of its own. */
function esdsOf(entry: Uint8Array): Uint8Array | null {
  const version = view(entry).getUint16(8);
  const rest = entry.subarray(28 + [0, 16, 36][version]!);
  return inside(rest, 'esds') ?? inside(rest, 'wave', 'esds');
}

/** Descriptors nest (ISO/IEC 14496-1, 7.2.6): 3 the stream, 4 its decoder, 5 the decoder's own configuration. */
function streamOf(bytes: Uint8Array): { kind: number; config: Uint8Array | null } | null {
  let kind: number | null = null;
  for (let at = 0; at < bytes.length; ) {
    const tag = bytes[at++];
    let size = 0;
    let byte = 0;
    do {
      byte = bytes[at++] ?? 0;
      size = (size << 7) | (byte & 127);
    } while (byte & 128);
    if (tag === 4) kind = bytes[at] ?? 0;
    if (tag === 5) return { kind: kind ?? 0, config: bytes.subarray(at, at + size) };
    at += tag === 3 ? 3 : tag === 4 ? 13 : size;
  }
  return kind === null ? null : { kind, config: null };
}

/** Rate and channels of the core (ISO/IEC 14496-3, 1.6.2.1). */
function configFacts(config: Uint8Array): { rate: number; channels: number } | null {
  const [a = 0, b = 0] = config;
  const rate = AAC_RATES[((a & 7) << 1) | (b >> 7)];
  const channels = (b >> 3) & 15;
  if (rate === undefined || channels === 0) return null;
  return { rate, channels: channels === 7 ? 8 : channels };
}

/** The edit list: its start in the track's time scale, its length in the film's (14496-12, 8.6.6). */
function editOf(moov: Uint8Array, trak: Uint8Array): Music | null {
  const [elst, mvhd, mdhd] = [
    inside(trak, 'edts', 'elst'),
    inside(moov, 'mvhd'),
    inside(trak, 'mdia', 'mdhd'),
  ];
  if (!elst || !mvhd || !mdhd) return null;
  const scaleOf = (box: Uint8Array) => view(box).getUint32(box[0] === 1 ? 20 : 12);
  const data = view(elst);
  const long = elst[0] === 1;
  for (let i = 0, at = 8; i < data.getUint32(4); i++, at += long ? 20 : 12) {
    const duration = long ? Number(data.getBigUint64(at)) : data.getUint32(at);
    const start = long ? Number(data.getBigInt64(at + 8)) : data.getInt32(at + 4);
    // An empty edit: a pause before the sound.
    if (start < 0) continue;
    return {
      by: 'edit list',
      skip: start / scaleOf(mdhd),
      length: duration > 0 ? duration / scaleOf(mvhd) : null,
    };
  }
  return null;
}
