import { readFileSync } from 'node:fs';
import decodeFlac from '@audio/decode-flac';
import decodeMp3 from '@audio/decode-mp3';
import decodeOpus from '@audio/decode-opus';
import decodeVorbis from '@audio/decode-vorbis';
import { beforeAll, describe, expect, it } from 'vitest';
import { aacProgram } from '../../lib/codec/aac.node.ts';
import { decode, LIMITS } from '../../lib/codec/decode.ts';
import { encodeMp3 } from '../../lib/codec/mp3.ts';
import { sniff } from '../../lib/codec/sniff.ts';
import { encodeWav } from '../../lib/codec/wav.ts';
import { asSound } from '../../lib/core/signal/sound.ts';
import { clicks, convert, hasFfmpeg, lag, noise, same, without } from './sounds.ts';

const RATE = 44_100;
const LENGTH = RATE * 12 + 77;
const sound = clicks(RATE, LENGTH, [200_000]);
const wav = encodeWav(sound, 16);
let mp3: Uint8Array;
beforeAll(async () => {
  const made = await encodeMp3(asSound(sound), { title: 'x', artist: '', comment: '' });
  if (made.ok) mp3 = made.value;
});

const problem = async (bytes: Uint8Array, options = {}) => {
  const done = await decode(bytes, options);
  return done.ok ? 'none' : done.problem.code;
};
const text = (words: string) => new TextEncoder().encode(words.repeat(20));
const random = (length: number) => {
  const next = noise(11);
  return Uint8Array.from({ length }, () => (next() + 1) * 128);
};

describe('what is read', () => {
  it('WAV', async () => {
    const done = await decode(wav);
    expect(done).toMatchObject({ ok: true, value: { format: 'wav', rate: RATE, channels: 2 } });
    if (done.ok) expect(done.value.samples.channels[0]).toHaveLength(LENGTH);
  });

  it.each([16, 24] as const)('a WAV of %i bits, which comes back bit for bit', async (bits) => {
    const bytes = encodeWav(sound, bits);
    const done = await decode(bytes);
    expect(done.ok && Buffer.from(encodeWav(done.value.samples, bits)).equals(bytes)).toBe(true);
  });

  it('MP3, step by step as at once', async () => {
    const done = await decode(mp3);
    const whole = await decodeMp3(mp3);
    expect(done.ok && same(done.value.samples.channels, whole.channelData)).toBe(true);
  });

  it('a mono MP3 has one channel', async () => {
    const made = await encodeMp3(asSound(clicks(RATE, LENGTH, [], 1)), {
      title: '',
      artist: '',
      comment: '',
    });
    const done = made.ok ? await decode(made.value) : made;
    expect(done).toMatchObject({ ok: true, value: { channels: 1 } });
  });

  const cases = [
    ['flac', 'flac', [], decodeFlac],
    ['vorbis', 'ogg', ['-c:a', 'libvorbis', '-q:a', '6'], decodeVorbis],
    ['opus', 'opus', ['-b:a', '128k'], decodeOpus],
  ] as const;
  it.skipIf(!hasFfmpeg).each(cases)(
    `%s, step by step as at once${without}`,
    async (format, ext, how, whole) => {
      const bytes = convert(wav, ext, [...how]);
      const done = await decode(bytes);
      if (!done.ok) throw new Error(done.problem.sentence);
      expect(done.value.format).toBe(format);
      expect(same(done.value.samples.channels, (await whole(bytes)).channelData)).toBe(true);
      expect(Math.abs(done.value.duration - LENGTH / RATE)).toBeLessThan(0.001);
      if (format !== 'opus') {
        expect(Math.abs(lag(sound.channels[0]!, done.value.samples.channels[0]!, 200_000))).toBeLessThan(2);
      }
      if (format === 'flac') expect(done.value.samples.channels[1]).toHaveLength(LENGTH);
    },
  );

  it.skipIf(!hasFfmpeg)(`M4A, to the sample${without}`, async () => {
    const bytes = convert(wav, 'm4a', ['-c:a', 'aac', '-b:a', '192k']);
    expect(await problem(bytes)).toBe('no AAC');
    const done = await decode(bytes, { aac: aacProgram });
    if (!done.ok) throw new Error(done.problem.sentence);
    expect(done.value).toMatchObject({ format: 'aac', rate: RATE, channels: 2 });
    expect(lag(sound.channels[0]!, done.value.samples.channels[0]!, 200_000, 4000)).toBe(0);
    // The film's time scale is a millisecond.
    expect(Math.abs(done.value.samples.channels[0]!.length - LENGTH)).toBeLessThan(45);
    expect(sniff(convert(wav, 'aac', ['-c:a', 'aac']))).toEqual({ audio: true, format: 'aac' });
  });
});

describe('what is refused, each with a word', () => {
  it.each<[string, () => Uint8Array, string]>([
    ['an empty file', () => new Uint8Array(0), 'not a song'],
    ['a text that is called .mp3', () => text('Dear both, '), 'not a song'],
    ['a page', () => text('<html>ä</html>'), 'not a song'],
    ['a picture', () => Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 1, 2, 3, 4]), 'not a song'],
    ['random bytes', () => random(200_000), 'not a song'],
    ['an ID3 tag and nothing after it', () => mp3.slice(0, 40), 'not a song'],
    ['a header of WAV and nothing after it', () => wav.slice(0, 44), 'damaged'],
    ['a broken header of WAV', () => wav.slice(0, 20), 'damaged'],
    ['three seconds', () => encodeWav(clicks(RATE, 3 * RATE, []), 16), 'too short'],
    ['half of a WAV', () => wav.slice(0, wav.length / 2), 'cut off'],
    ['half of an MP3', () => mp3.slice(0, mp3.length / 2), 'cut off'],
  ])('%s', async (_, bytes, code) => {
    expect(await problem(bytes())).toBe(code);
  });

  it.skipIf(!hasFfmpeg)(`half of a FLAC, an Ogg and an Opus file, and a film${without}`, async () => {
    for (const ext of ['flac', 'ogg', 'opus']) {
      const bytes = convert(wav, ext);
      expect(await problem(bytes.slice(0, bytes.length * 0.6))).toBe('cut off');
    }
    const film = convert(wav, 'mp4', [
      ...['-f', 'lavfi', '-i', 'color=s=32x32:d=1', '-map', '0:a', '-map', '1:v', '-shortest'],
    ]);
    expect(sniff(film)).toEqual({ audio: false, what: 'a film' });
  });

  it('more than fifteen minutes, or than a hundred megabytes, or than the memory', async () => {
    const long = encodeWav({ rate: 8000, channels: [new Float32Array(8000 * 901)] }, 16);
    expect(await problem(long)).toBe('too long');
    expect(await problem(new Uint8Array(LIMITS.fileBytes + 1))).toBe('too big');
    expect(await problem(wav, { limits: { ...LIMITS, decodedBytes: 1_000_000 } })).toBe('too much');
  });

  it('damage in the middle is no crash', async () => {
    const hurt = mp3.slice();
    hurt.set(random(3000), 100_000);
    expect(['none', 'cut off']).toContain(await problem(hurt));
  });
});

it('nothing of node in what the Worker runs', () => {
  const seen = new Set<string>();
  const visit = (file: URL) => {
    if (seen.has(file.href)) return;
    seen.add(file.href);
    for (const [, name] of readFileSync(file, 'utf8').matchAll(/from '([^']+)'/g)) {
      expect(name).not.toMatch(/^node:|\.node\.ts$/);
      if (name!.startsWith('.')) visit(new URL(name!, file));
    }
  };
  for (const name of ['decode.ts', 'mp3.ts', 'wav.ts'])
    visit(new URL(`../../lib/codec/${name}`, import.meta.url));
  expect(seen.size).toBeGreaterThan(6);
});
