import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { decode } from '../../lib/codec/decode.ts';
import { lengthOf, type Samples } from '../../lib/core/signal/samples.ts';
import { need } from '../../server/command/wrong.ts';

/** A song as it may reach the program: heard in a room, squeezed into a small file, with somebody speaking over it. */

/** Seconds in which the room's sound falls by 60 dB, and how far the direct sound stands above it. A hall, by choice. */
const ROOM = { decay: 1.2, direct: 3 };

/** Seconds of the delay lines, without a common rhythm; the second channel's are a little longer. */
const LINES = [0.0297, 0.0371, 0.0411, 0.0437, 0.0533, 0.0617, 0.0731, 0.0839];

/**
 * A room's echo: eight delay lines that feed each other without loss, each damped so that all die away together (feedback delay
 * network; Jot and Chaigne 1991). Within a tenth of a second its reflections lie too close to be told apart.
 */
export function inRoom({ rate, channels }: Samples): Samples {
  return {
    rate,
    channels: channels.map((dry, c) => {
      const wet = echoOf(dry, rate, 1 + 0.037 * c);
      const gain = 10 ** (-ROOM.direct / 20) * (rms(dry) / rms(wet));
      return wet.map((x, i) => dry[i]! + gain * x);
    }),
  };
}

function echoOf(dry: Float32Array, rate: number, longer: number): Float32Array {
  const lines = LINES.map((seconds) => new Float32Array(Math.round(seconds * longer * rate)));
  const damping = lines.map((line) => 10 ** ((-3 * line.length) / rate / ROOM.decay));
  const wet = new Float32Array(dry.length);
  for (let i = 0; i < dry.length; i++) {
    let sum = 0;
    for (let n = 0; n < lines.length; n++) sum += lines[n]![i % lines[n]!.length]! * damping[n]!;
    // A Householder reflection: what comes out is shared among all and keeps its energy.
    const shared = (2 / lines.length) * sum;
    for (let n = 0; n < lines.length; n++) {
      const line = lines[n]!;
      const at = i % line.length;
      line[at] = dry[i]! + line[at]! * damping[n]! - shared;
    }
    wet[i] = sum;
  }
  return wet;
}

/** Through an MP3 of 96 kbit/s, by an ffmpeg on the PATH, and back by our own decoder. */
export async function throughMp3(path: string): Promise<Samples> {
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-worn-'));
  try {
    const small = join(folder, 'small.mp3');
    await promisify(execFile)('ffmpeg', ['-v', 'error', '-i', path, '-vn', '-b:a', '96k', small]);
    return need(await decode(await readFile(small)), path).samples;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

/** A voice's power stands so far below the song's, both over their whole length. dB. */
const VOICE = -12;

/** A voice laid over the song, again from its beginning whenever it ends. */
export function spokenOver(song: Samples, voice: Samples): Samples {
  const speech = atRate(voice, song.rate);
  const gain = 10 ** (VOICE / 20) * (rms(song.channels[0]!) / rms(speech));
  return {
    rate: song.rate,
    channels: song.channels.map((channel) => channel.map((x, i) => x + gain * speech[i % speech.length]!)),
  };
}

/** The first channel at another rate, by straight lines between samples: enough for a voice. */
function atRate(samples: Samples, rate: number): Float32Array {
  const from = samples.channels[0]!;
  const out = new Float32Array(Math.floor((lengthOf(samples) / samples.rate) * rate) - 1);
  for (let i = 0; i < out.length; i++) {
    const at = (i * samples.rate) / rate;
    const k = Math.floor(at);
    out[i] = from[k]! + (at - k) * ((from[k + 1] ?? 0) - from[k]!);
  }
  return out;
}

function rms(channel: Float32Array): number {
  let sum = 0;
  for (const x of channel) sum += x * x;
  return Math.sqrt(sum / channel.length);
}
