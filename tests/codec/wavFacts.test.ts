import { describe, expect, it } from 'vitest';
import { decode } from '../../lib/codec/decode.ts';
import { encodeWav } from '../../lib/codec/wav.ts';
import { clicks, convert, decodedByFfmpeg, hasFfmpeg, without } from './sounds.ts';

const RATE = 22_050;
const sound = clicks(RATE, RATE * 11 + 77, [100_000]);
const wav = encodeWav(sound, 16);

/** A WAV of floats, made here: a float's bytes are its own. */
function floats(bits: 32 | 64, extensible: boolean): Uint8Array {
  const [left, right] = sound.channels as [Float32Array, Float32Array];
  const block = (bits / 8) * 2;
  const format = extensible ? 40 : 16;
  const bytes = new Uint8Array(28 + format + left.length * block);
  const view = new DataView(bytes.buffer);
  const text = (at: number, word: string) => bytes.set(new TextEncoder().encode(word), at);
  text(0, 'RIFF');
  view.setUint32(4, bytes.length - 8, true);
  text(8, 'WAVEfmt ');
  view.setUint32(16, format, true);
  view.setUint16(20, extensible ? 0xfffe : 3, true);
  view.setUint16(22, 2, true);
  view.setUint32(24, RATE, true);
  view.setUint32(28, RATE * block, true);
  view.setUint16(32, block, true);
  view.setUint16(34, bits, true);
  if (extensible) {
    view.setUint16(36, 22, true);
    view.setUint16(38, bits, true);
    view.setUint16(44, 3, true);
  }
  text(20 + format, 'data');
  view.setUint32(24 + format, left.length * block, true);
  for (let i = 0, at = 28 + format; i < left.length; i++) {
    for (const x of [left[i]!, right[i]!]) {
      if (bits === 32) view.setFloat32(at, x, true);
      else view.setFloat64(at, x, true);
      at += bits / 8;
    }
  }
  return bytes;
}

describe('WAV', () => {
  it.each([
    [32, false],
    [32, true],
    [64, false],
    [64, true],
  ] as const)('of floats of %i bits, extensible: %s, comes back as it was', async (bits, extensible) => {
    // As node reads files: bytes in a memory that they share.
    const done = await decode(Buffer.from(floats(bits, extensible)));
    if (!done.ok) throw new Error(done.problem.sentence);
    expect(done.value.samples).toEqual(sound);
  });

  // Packed ones, too: what is in a dictaphone's file is no song, but it is read.
  it
    .skipIf(!hasFfmpeg)
    .each([
      'pcm_u8',
      'pcm_s24le',
      'pcm_s32le',
      'pcm_f32le',
      'pcm_f64le',
      'pcm_alaw',
      'adpcm_ms',
      'adpcm_ima_wav',
    ])(`%s: the samples that ffmpeg gives${without}`, async (codec) => {
    const bytes = convert(wav, 'wav', ['-c:a', codec]);
    const done = await decode(Buffer.from(bytes));
    if (!done.ok) throw new Error(done.problem.sentence);
    for (const [c, theirs] of decodedByFfmpeg(bytes, 2).entries()) {
      const mine = done.value.samples.channels[c]!;
      expect(mine.length).toBe(theirs.length);
      expect(Math.max(...chunks(mine).map((part, i) => mostApart(part, chunks(theirs)[i]!)))).toBeLessThan(
        1e-4,
      );
    }
  });

  it.skipIf(!hasFfmpeg)(`that holds an MP3 says which file to bring instead${without}`, async () => {
    const done = await decode(convert(wav, 'wav', ['-c:a', 'libmp3lame']));
    expect(done).toMatchObject({
      ok: false,
      problem: {
        code: 'other codec',
        sentence: expect.stringContaining('holds an MP3, which cannot be read here'),
      },
    });
  });

  it.skipIf(!hasFfmpeg)(`of ADPCM that does end early says so${without}`, async () => {
    const bytes = convert(wav, 'wav', ['-c:a', 'adpcm_ima_wav']);
    const done = await decode(bytes.slice(0, bytes.length / 2));
    expect(done).toMatchObject({ ok: false, problem: { code: 'cut off' } });
  });
});

const chunks = (x: Float32Array): Float32Array[] =>
  Array.from({ length: Math.ceil(x.length / 50_000) }, (_, i) => x.subarray(i * 50_000, (i + 1) * 50_000));
const mostApart = (a: Float32Array, b: Float32Array): number =>
  a.reduce((most, x, i) => Math.max(most, Math.abs(x - b[i]!)), 0);
