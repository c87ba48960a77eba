import { describe, expect, it } from 'vitest';
import { decode } from '../../lib/codec/decode.ts';
import { sniff } from '../../lib/codec/sniff.ts';
import { SOUND_LIMITS, unpacksTo } from '../../lib/codec/unpacked.ts';
import { encodeWav } from '../../lib/codec/wav.ts';
import { silentFlac } from './silentFlac.ts';
import { convert, hasFfmpeg, noise, without } from './sounds.ts';

const RATE = 44_100;
const SECONDS = 40;
const next = noise(5);
const music = encodeWav(
  {
    rate: RATE,
    channels: [0, 1].map(() =>
      Float32Array.from({ length: RATE * SECONDS }, (_, i) => Math.sin(i / 20) / 3 + next() / 9),
    ),
  },
  16,
);
const formatOf = (bytes: Uint8Array) => {
  const found = sniff(bytes);
  if (!found.audio) throw new Error(found.what);
  return found.format;
};
const fits = (bytes: Uint8Array, most: number) =>
  unpacksTo(bytes, formatOf(bytes), { ...SOUND_LIMITS, most });

describe('what other coders write is counted as it is', () => {
  it('WAV', () => {
    expect(fits(music, SECONDS)).toBeNull();
    expect(fits(music, SECONDS - 4)).toBe('too long');
  });

  it.skipIf(!hasFfmpeg).each([
    ['mp3', ['-b:a', '128k']],
    ['flac', []],
    ['oga', ['-c:a', 'flac']],
    ['opus', ['-frame_duration', '20']],
    ['opus', ['-frame_duration', '60']],
    ['m4a', []],
    ['aac', []],
  ])(`%s %j${without}`, (extension, options) => {
    const bytes = convert(music, extension, options);
    expect(fits(bytes, SECONDS)).toBeNull();
    expect(fits(bytes, SECONDS - 4)).toBe('too long');
  });

  it.skipIf(!hasFfmpeg)(`Vorbis, whose count is rough${without}`, () => {
    const bytes = convert(music, 'ogg', ['-c:a', 'libvorbis']);
    expect(fits(bytes, SECONDS / 4)).toBeNull();
    expect(fits(bytes, 0.5)).toBe('too long');
  });

  it('and channels count, too', () => {
    expect(unpacksTo(silentFlac(20), 'flac', { most: 900, decodedBytes: 20 * 65_535 * 2 * 4 })).toBeNull();
    expect(unpacksTo(silentFlac(22), 'flac', { most: 900, decodedBytes: 20 * 65_535 * 2 * 4 })).toBe(
      'too much',
    );
  });
});

describe('a small file that unpacks to a day', () => {
  it('FLAC: it really would, and not one frame of it is decoded', async () => {
    const minute = await decode(silentFlac(40));
    expect(minute.ok && minute.value.duration).toBeCloseTo((40 * 65_535) / RATE, 1);
    const day = silentFlac(Math.ceil((86_400 * RATE) / 65_535));
    expect(day.length).toBeLessThan(1_100_000);
    expect(await refusedCheaply(day)).toBe('too long');
  });

  it('Opus', async () => {
    expect(await refusedCheaply(silentOpus(86_400 / 0.12))).toBe('too long');
  });

  it('an M4A whose table claims four thousand million frames', async () => {
    const bytes = hollowM4a();
    expect(sniff(bytes)).toEqual({ audio: true, format: 'aac' });
    expect(await refusedCheaply(bytes)).toBe('cut off');
  });

  it('a WAV that says it has one sample a second', async () => {
    const slow = music.slice();
    const view = new DataView(slow.buffer);
    view.setUint32(24, 1, true);
    view.setUint32(28, 4, true);
    expect(await refusedCheaply(slow)).toBe('too long');
  });
});

async function refusedCheaply(bytes: Uint8Array): Promise<string> {
  const before = process.memoryUsage().arrayBuffers;
  const done = await decode(bytes);
  // A day of sound would be thirty thousand million bytes; what may come here is the reader's own.
  expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(64 * 1024 * 1024);
  return done.ok ? 'none' : done.problem.code;
}

/** Packets of 120 ms in three bytes each, 255 a page; sums of pages are not looked at. */
function silentOpus(packets: number): Uint8Array {
  const head = Buffer.from([...Buffer.from('OpusHead'), 1, 2, 0, 0, 0x80, 0xbb, 0, 0, 0, 0, 0]);
  const pages = [page([head]), page([Buffer.from('OpusTags\0\0\0\0\0\0\0\0')])];
  // Frames of 60 ms, two of them, of no bytes.
  for (let n = 0; n < packets; n += 255)
    pages.push(page(Array.from({ length: 255 }, () => Buffer.from([0x18 | 3, 2, 0]))));
  return Buffer.concat(pages);
}

const page = (packets: Buffer[]): Buffer =>
  Buffer.concat([
    Buffer.from('OggS'),
    Buffer.alloc(22),
    Buffer.from([packets.length, ...packets.map(({ length }) => length)]),
    ...packets,
  ]);

/** As little of an M4A as names a track of AAC, with a table of 2^32 - 1 frames. */
function hollowM4a(): Uint8Array {
  const u32 = (...numbers: number[]) =>
    Buffer.concat(numbers.map((n) => Buffer.from([n >>> 24, (n >> 16) & 255, (n >> 8) & 255, n & 255])));
  const box = (type: string, ...bodies: Buffer[]): Buffer => {
    const body = Buffer.concat(bodies);
    return Buffer.concat([u32(body.length + 8), Buffer.from(type), body]);
  };
  const config = Buffer.from([5, 2, 0x12, 0x10]);
  const decoder = Buffer.concat([Buffer.from([4, 13 + config.length]), Buffer.alloc(13), config]);
  const esds = box('esds', u32(0), Buffer.from([3, 3 + decoder.length]), Buffer.alloc(3), decoder);
  const stbl = box(
    'stbl',
    box('stsd', u32(0, 1), box('mp4a', Buffer.alloc(28), esds)),
    box('stsz', u32(0, 1, 0xffffffff)),
    box('stsc', u32(0, 1, 1, 0xffffffff, 1)),
    box('stco', u32(0, 1, 0)),
  );
  return Buffer.concat([
    box('ftyp', Buffer.from('M4A \0\0\0\0')),
    box('moov', box('trak', box('mdia', box('minf', stbl)))),
  ]);
}
