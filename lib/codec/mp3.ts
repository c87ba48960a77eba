import { createEncoder, createMp3Encoder } from 'wasm-media-encoders';
import { bad, good, type Result } from '../core/result.ts';
import type { Sound } from '../core/signal/sound.ts';
import { id3, type Tags } from './id3.ts';
import { infoFrame } from './infoFrame.ts';
import { joined } from './joined.ts';

/** Rates that layer III knows at 320 kbit/s; half of each at 160. */
const FULL_RATES = [32000, 44100, 48000];
/** Samples that the encoder is given at a time. */
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
  sound: Sound,
  tags: Tags,
  { wasm, report }: Mp3Options = {},
): Promise<Result<Uint8Array<ArrayBuffer>>> {
  const { rate, channels, length } = sound;
  const full = FULL_RATES.includes(rate);
  if (!full && !FULL_RATES.includes(rate * 2)) {
    return bad('rate', `An MP3 cannot hold ${rate / 1000} kHz. Take the WAV.`);
  }
  if (channels > 2) return bad('channels', 'An MP3 holds one or two channels. Take the WAV.');
  if (length === 0) return bad('empty', 'There is no sound to write. Keep at least some of the song.');
  const encoder = wasm ? await createEncoder('audio/mpeg', wasm) : await createMp3Encoder();
  encoder.configure({ sampleRate: rate, channels: channels === 1 ? 1 : 2, bitrate: full ? 320 : 160 });
  const parts: Uint8Array[] = [];
  let done = 0;
  for (const part of sound.parts()) {
    for (let at = 0; at < part[0]!.length; at += STEP) {
      // The encoder owns what it gives and overwrites it.
      parts.push(encoder.encode(part.map((channel) => channel.subarray(at, at + STEP))).slice());
    }
    done += part[0]!.length;
    report?.(done / length);
  }
  parts.push(encoder.finalize().slice());
  const music = joined(parts);
  return good(joined([id3(tags), infoFrame(music, length), music]));
}
