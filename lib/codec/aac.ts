import { bad, good, type Result } from '../core/result.ts';
import type { Samples } from '../core/signal/samples.ts';
import { AAC_FRAME, type AacTrack, type Music } from './aacFormat.ts';

/** What the program gives away (`lib/codec/aac/src/lib.rs` says what each does). */
interface Program {
  memory: WebAssembly.Memory;
  room(size: number): number;
  configure(): number;
  decode(): number;
  rate(): number;
  channels(): number;
  plane(channel: number): number;
}

/** The decoder's program, from wherever the platform keeps it. */
export type AacProgram = () => Promise<BufferSource>;

/** Samples a channel that were decoded so far, and the share of the file, 0 to 1. */
export interface SoFar {
  samples: number;
  channels: number;
  rate: number;
  share: number;
}

const CANNOT = bad(
  'no AAC',
  'This kind of AAC cannot be read here. Export the song as WAV or MP3 and choose that.',
);

/**
 * Decodes a track to the samples of its music, the same ones in every engine and in node: the program is one, and its arithmetic is
 * WebAssembly's, which is exact. A damaged frame is silence of its own length.
 * @param given is told after each frame how much there is; what it gives ends the work
 */
export async function decodeAac(
  track: AacTrack,
  program: AacProgram,
  given: (far: SoFar) => Result<never> | null,
): Promise<Result<Samples>> {
  const { instance } = (await WebAssembly.instantiate(await program(), {})) as unknown as {
    instance: { exports: Program };
  };
  const { exports } = instance;
  put(exports, track.config);
  if (exports.configure() < 0) return CANNOT;
  const parts: (Float32Array[] | null)[] = [];
  let [total, rate, channels] = [0, track.rate, track.channels];
  try {
    for (const [i, frame] of track.frames.entries()) {
      put(exports, frame);
      const length = exports.decode();
      if (length <= 0) parts.push(null);
      else {
        rate = exports.rate();
        channels = exports.channels();
        parts.push(
          Array.from({ length: channels }, (_, c) =>
            new Float32Array(exports.memory.buffer, exports.plane(c), length).slice(),
          ),
        );
      }
      total += length <= 0 ? (AAC_FRAME * rate) / track.rate : length;
      const ended = given({ samples: total, channels, rate, share: (i + 1) / track.frames.length });
      if (ended) return ended;
    }
  } catch (error) {
    // The program gave up on what it was given.
    if (error instanceof WebAssembly.RuntimeError) return CANNOT;
    throw error;
  }
  if (parts.every((part) => part === null)) return CANNOT;
  const silence = (AAC_FRAME * rate) / track.rate;
  const whole = Array.from({ length: channels }, (_, c) => joined(parts, c, silence));
  return good({ rate, channels: musicOf(whole, rate, track.music) });
}

function put(exports: Program, bytes: Uint8Array): void {
  const at = exports.room(bytes.length);
  new Uint8Array(exports.memory.buffer, at, bytes.length).set(bytes);
}

/** One channel of all frames, with silence for the damaged ones; its parts are let go of, so that the song is never in memory twice. */
function joined(parts: (Float32Array[] | null)[], channel: number, silence: number): Float32Array {
  const lengths = parts.map((part) => part?.[0]?.length ?? silence);
  const whole = new Float32Array(lengths.reduce((sum, length) => sum + length, 0));
  let at = 0;
  for (const [i, part] of parts.entries()) {
    const piece = part?.[channel];
    if (piece) whole.set(piece, at);
    at += lengths[i]!;
    if (part && channel > 0) part[channel] = new Float32Array(0);
  }
  return whole;
}

/** Without what the coder put before and after. */
function musicOf(whole: Float32Array[], rate: number, music: Music | null): Float32Array[] {
  const length = whole[0]!.length;
  const [from, to] = rangeOf(length, rate, music);
  return from === 0 && to === length ? whole : whole.map((channel) => channel.slice(from, to));
}

function rangeOf(length: number, rate: number, music: Music | null): [from: number, to: number] {
  if (music?.by === 'edit list') {
    const from = Math.min(length, Math.round(music.skip * rate));
    const to = music.length === null ? length : from + Math.round(music.length * rate);
    return [from, Math.min(length, to)];
  }
  const isTrue = music && music.before + music.samples + music.after === length;
  return isTrue ? [music.before, music.before + music.samples] : [0, length];
}
