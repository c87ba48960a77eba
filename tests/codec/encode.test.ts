import decodeMp3 from '@audio/decode-mp3';
import decodeWav from '@audio/decode-wav';
import { describe, expect, it } from 'vitest';
import { crc16 } from '../../lib/codec/crc16.ts';
import { encodeMp3 } from '../../lib/codec/mp3.ts';
import { encodeWav } from '../../lib/codec/wav.ts';
import { asSound } from '../../lib/core/signal/sound.ts';
import { clicks, convert, hasFfmpeg, lag, noise, probe, without } from './sounds.ts';

const RATE = 44_100;
const LENGTH = RATE * 3 + 123;
const PLACES = [5000, 60_000, LENGTH - 3000];
const TAGS = { title: 'Lïnnet Waltz', artist: 'The Hedge', comment: 'A & B, 3:05' };
const sound = clicks(RATE, LENGTH, PLACES);
const mp3Of = async (samples = sound, tags = TAGS) => {
  const made = await encodeMp3(asSound(samples), tags);
  if (!made.ok) throw new Error(made.problem.sentence);
  return made.value;
};

describe('WAV', () => {
  // Worked example 10 (arithmetic): 180 s of 16-bit stereo at 44.1 kHz.
  it('has the exact sizes in its header', () => {
    const silence = new Float32Array(180 * RATE);
    const bytes = encodeWav({ rate: RATE, channels: [silence, silence] }, 16);
    const view = new DataView(bytes.buffer);
    expect(view.getUint32(40, true)).toBe(31_752_000);
    expect(view.getUint32(4, true)).toBe(31_752_036);
    expect(view.getUint32(28, true)).toBe(176_400);
    expect(bytes.length).toBe(31_752_044);
  });

  it.each([16, 24] as const)('of %i bits is read back by another reader to a step and a half', (bits) => {
    const next = noise(3);
    const x = Float32Array.from({ length: 5001 }, next);
    const { channelData, sampleRate } = decodeWav(encodeWav({ rate: 48_000, channels: [x] }, bits));
    expect(sampleRate).toBe(48_000);
    expect(channelData).toHaveLength(1);
    expect(channelData[0]).toHaveLength(5001);
    const worst = x.reduce((most, value, i) => Math.max(most, Math.abs(value - channelData[0]![i]!)), 0);
    // Half a step of rounding, and the step by which this reader bends what is above zero.
    expect(worst).toBeLessThanOrEqual(1.6 * 0.5 ** (bits - 1));
  });

  it('does not wrap round at full scale', () => {
    const loud = decodeWav(encodeWav({ rate: RATE, channels: [Float32Array.of(2, -2)] }, 16));
    expect(loud.channelData[0]![0]).toBeGreaterThan(0.9999);
    expect(loud.channelData[0]![1]).toBe(-1);
  });

  it.skipIf(!hasFfmpeg)(`is read by ffmpeg${without}`, () => {
    const raw = convert(encodeWav(sound, 24), 'f32', ['-f', 'f32le']);
    expect(raw.length).toBe(LENGTH * 2 * 4);
    const both = new Float32Array(raw.buffer, raw.byteOffset, raw.length / 4);
    const left = sound.channels[0]!;
    expect(left.every((x, i) => Math.abs(x - both[2 * i]!) <= 0.51 * 0.5 ** 23)).toBe(true);
  });
});

describe('MP3', () => {
  it('has the exact length, and its clicks where they were', async () => {
    const { channelData, sampleRate } = await decodeMp3(await mp3Of());
    expect(sampleRate).toBe(RATE);
    expect(channelData.map((x) => x.length)).toEqual([LENGTH, LENGTH]);
    for (const at of PLACES) expect(Math.abs(lag(sound.channels[0]!, channelData[0]!, at))).toBeLessThan(2);
  });

  it.skipIf(!hasFfmpeg)(`so says ffmpeg, and reads the tags${without}`, async () => {
    const bytes = await mp3Of();
    const raw = convert(bytes, 'f32', ['-f', 'f32le']);
    const both = new Float32Array(raw.buffer, raw.byteOffset, raw.length / 4);
    expect(both.length).toBe(LENGTH * 2);
    const left = both.filter((_, i) => i % 2 === 0);
    for (const at of PLACES) expect(Math.abs(lag(sound.channels[0]!, left, at))).toBeLessThan(2);
    expect(probe(bytes).format.tags).toMatchObject(TAGS);
  });

  it.each([
    [48_000, 1],
    [32_000, 2],
    [22_050, 1],
  ])('at %i Hz with %i channels as well', async (rate, channels) => {
    const x = clicks(rate, 70_001, [20_000], channels);
    const { channelData, sampleRate } = await decodeMp3(await mp3Of(x));
    expect(sampleRate).toBe(rate);
    expect(channelData[0]).toHaveLength(70_001);
    expect(Math.abs(lag(x.channels[0]!, channelData[0]!, 20_000))).toBeLessThan(2);
  });

  it('is refused where the format has no such rate', async () => {
    const made = await encodeMp3(asSound({ rate: 96_000, channels: [new Float32Array(9)] }), TAGS);
    expect(made).toMatchObject({ ok: false, problem: { code: 'rate' } });
  });

  // The catalogue of parametrised CRC algorithms (G. Cook) gives 0xBB3D for "123456789" as CRC-16/ARC.
  it('checksum', () => {
    expect(crc16(new TextEncoder().encode('123456789'))).toBe(0xbb3d);
  });
});
