import { lengthOf, type Samples } from '../core/signal/samples.ts';

const HEADER = 44;

/**
 * A WAV file (RIFF, PCM) of 16 or 24 bits a sample, rounded to the nearest step and limited to full scale. What was decoded
 * from a file of the same depth comes back bit for bit.
 */
export function encodeWav(samples: Samples, bits: 16 | 24): Uint8Array<ArrayBuffer> {
  const { rate, channels } = samples;
  const length = lengthOf(samples);
  const width = bits / 8;
  const block = width * channels.length;
  const data = length * block;
  const bytes = new Uint8Array(HEADER + data + (data & 1));
  const view = new DataView(bytes.buffer);
  const text = (at: number, word: string) => {
    for (let i = 0; i < word.length; i++) bytes[at + i] = word.charCodeAt(i);
  };
  text(0, 'RIFF');
  view.setUint32(4, bytes.length - 8, true);
  text(8, 'WAVEfmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, channels.length, true);
  view.setUint32(24, rate, true);
  view.setUint32(28, rate * block, true);
  view.setUint16(32, block, true);
  view.setUint16(34, bits, true);
  text(36, 'data');
  view.setUint32(40, data, true);
  const full = 2 ** (bits - 1);
  for (const [c, channel] of channels.entries()) {
    for (let i = 0, at = HEADER + c * width; i < length; i++, at += block) {
      const step = Math.max(-full, Math.min(full - 1, Math.round(channel[i]! * full)));
      bytes[at] = step;
      bytes[at + 1] = step >> 8;
      if (width === 3) bytes[at + 2] = step >> 16;
    }
  }
  return bytes;
}
