import { aacTrack } from '@/lib/codec/aacTrack.ts';
import { bad, good, type Result } from '@/lib/core/result.ts';
import type { Samples } from '@/lib/core/signal/samples.ts';

/** A frame of AAC is this many samples long, or twice that where the upper half is coded apart. */
const FRAME = 1024;

/** AAC by the browser's own decoder, which differs from others by a few milliseconds; where it has none, a clear word. */
export async function decodeAacInBrowser(bytes: Uint8Array): Promise<Result<Samples>> {
  const track = aacTrack(bytes);
  if (!track || track.frames.length === 0) {
    return bad(
      'damaged',
      'No music can be read from this file: it seems to be damaged. Copy or download it again.',
    );
  }
  const config: AudioDecoderConfig = {
    codec: track.codec,
    sampleRate: track.rate,
    numberOfChannels: track.channels,
    ...(track.config ? { description: track.config } : {}),
  };
  const knows =
    typeof AudioDecoder !== 'undefined' &&
    (await AudioDecoder.isConfigSupported(config).catch(() => null))?.supported;
  if (!knows) {
    return bad(
      'no AAC',
      'This browser cannot read M4A and AAC. Export the song as WAV or MP3 and choose that.',
    );
  }
  const parts: Float32Array<ArrayBuffer>[][] = [];
  let rate = track.rate;
  let failed = false;
  const decoder = new AudioDecoder({
    output: (data) => {
      rate = data.sampleRate;
      parts.push(
        Array.from({ length: data.numberOfChannels }, (_, planeIndex) => {
          const plane = new Float32Array(data.numberOfFrames);
          data.copyTo(plane, { planeIndex, format: 'f32-planar' });
          return plane;
        }),
      );
      data.close();
    },
    error: () => {
      failed = true;
    },
  });
  decoder.configure(config);
  for (const [i, data] of track.frames.entries()) {
    if (failed) break;
    const timestamp = Math.round((i * FRAME * 1e6) / track.rate);
    decoder.decode(new EncodedAudioChunk({ type: 'key', timestamp, data: data as Uint8Array<ArrayBuffer> }));
  }
  if (!failed) await decoder.flush().catch(() => {});
  if (parts.length === 0) {
    return bad(
      'damaged',
      'No music can be read from this file: it seems to be damaged. Copy or download it again.',
    );
  }
  // Where the upper half is coded apart, the decoder gives twice the rate that the track states.
  const scale = rate / track.rate;
  return good({
    rate,
    channels: joined(parts, track.skip * scale, track.length === null ? null : track.length * scale),
  });
}

function joined(parts: Float32Array[][], skip: number, length: number | null): Float32Array[] {
  const total = parts.reduce((sum, part) => sum + part[0]!.length, 0);
  const most = Math.max(0, total - skip);
  return parts[0]!.map((_, channel) => {
    const whole = new Float32Array(total);
    let at = 0;
    for (const part of parts) {
      whole.set(part[channel] ?? part[0]!, at);
      at += part[0]!.length;
    }
    return whole.slice(skip, skip + Math.min(most, length ?? most));
  });
}
