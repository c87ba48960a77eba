import type { Samples } from '../core/signal/samples.ts';
import { asSound, type Sound } from '../core/signal/sound.ts';
import { joined } from './joined.ts';

const HEADER = 44;

/**
 * A WAV file (RIFF, PCM) of 16 or 24 bits a sample, rounded to the nearest step and limited to full scale, in pieces. What was
 * decoded from a file of the same depth comes back bit for bit.
 */
export function* wavPieces(sound: Sound, bits: 16 | 24): Generator<Uint8Array<ArrayBuffer>> {
  yield header(sound, bits);
  for (const part of sound.parts()) yield stepsOf(part, bits);
  if (((sound.length * sound.channels * bits) / 8) & 1) yield new Uint8Array(1);
}

/** The whole file of samples that are at hand. */
export const encodeWav = (samples: Samples, bits: 16 | 24): Uint8Array<ArrayBuffer> =>
  joined([...wavPieces(asSound(samples), bits)]);

function header({ rate, channels, length }: Sound, bits: number): Uint8Array<ArrayBuffer> {
  const block = (bits / 8) * channels;
  const data = length * block;
  const bytes = new Uint8Array(HEADER);
  const view = new DataView(bytes.buffer);
  const text = (at: number, word: string) => {
    for (let i = 0; i < word.length; i++) bytes[at + i] = word.charCodeAt(i);
  };
  text(0, 'RIFF');
  view.setUint32(4, HEADER - 8 + data + (data & 1), true);
  text(8, 'WAVEfmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, channels, true);
  view.setUint32(24, rate, true);
  view.setUint32(28, rate * block, true);
  view.setUint16(32, block, true);
  view.setUint16(34, bits, true);
  text(36, 'data');
  view.setUint32(40, data, true);
  return bytes;
}

function stepsOf(channels: readonly Float32Array[], bits: number): Uint8Array<ArrayBuffer> {
  const width = bits / 8;
  const block = width * channels.length;
  const bytes = new Uint8Array(channels[0]!.length * block);
  const full = 2 ** (bits - 1);
  for (const [c, channel] of channels.entries()) {
    for (let i = 0, at = c * width; i < channel.length; i++, at += block) {
      const step = Math.max(-full, Math.min(full - 1, Math.round(channel[i]! * full)));
      bytes[at] = step;
      bytes[at + 1] = step >> 8;
      if (width === 3) bytes[at + 2] = step >> 16;
    }
  }
  return bytes;
}
