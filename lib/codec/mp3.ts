import { createEncoder, createMp3Encoder } from 'wasm-media-encoders';
import { bad, good, type Result } from '../core/result.ts';
import { lengthOf, type Samples } from '../core/signal/samples.ts';
import { id3, type Tags } from './id3.ts';
import { infoFrame } from './infoFrame.ts';

/** Rates that layer III knows at 320 kbit/s; half of each at 160. */
const FULL_RATES = [32000, 44100, 48000];
/** Samples a step. */
const STEP = 65_536;

export interface Mp3Options {
  /** The encoder's wasm, where the page's security policy forbids the copy that is inlined as a data address. */
  wasm?: ArrayBuffer;
  /** Called with the share done, 0 to 1. */
  report?: (share: number) => void;
}

/**
 * An MP3 of constant 320 kbit/s (160 at 16 to 24 kHz): an ID3 tag, the frame that makes its length exact, the music. Fails
 * for sound that the format cannot hold.
 */
export async function encodeMp3(
  samples: Samples,
  tags: Tags,
  { wasm, report }: Mp3Options = {},
): Promise<Result<Uint8Array<ArrayBuffer>>> {
  const { rate, channels } = samples;
  const full = FULL_RATES.includes(rate);
  if (!full && !FULL_RATES.includes(rate * 2)) {
    return bad('rate', `An MP3 cannot hold ${rate / 1000} kHz. Take the WAV.`);
  }
  if (channels.length > 2) return bad('channels', 'An MP3 holds one or two channels. Take the WAV.');
  const length = lengthOf(samples);
  if (length === 0) return bad('empty', 'There is no sound to write. Keep at least some of the song.');
  const encoder = wasm ? await createEncoder('audio/mpeg', wasm) : await createMp3Encoder();
  encoder.configure({ sampleRate: rate, channels: channels.length === 1 ? 1 : 2, bitrate: full ? 320 : 160 });
  const parts: Uint8Array[] = [];
  for (let at = 0; at < length; at += STEP) {
    // The encoder owns what it gives and overwrites it.
    parts.push(encoder.encode(channels.map((channel) => channel.subarray(at, at + STEP))).slice());
    report?.(Math.min(1, (at + STEP) / length));
  }
  parts.push(encoder.finalize().slice());
  const music = joined(parts);
  return good(joined([id3(tags), infoFrame(music, length), music]));
}

function joined(parts: Uint8Array[]): Uint8Array<ArrayBuffer> {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
