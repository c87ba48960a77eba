import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { mixdown, type Samples } from '../../lib/core/signal/samples.ts';
import { tempoOf } from '../../lib/core/song/metrics.ts';
import type { HeardBeats } from '../../server/command/judge.ts';

/** A beat tracker that is not ours. None of these hears bars. */
export interface Other {
  name: string;
  hear(samples: Samples, path: string): Promise<HeardBeats>;
}

/** Those that are installed, and a word for each that is not. General libraries, at the settings they come with. */
export async function othersHere(): Promise<{ others: Other[]; missing: string[] }> {
  const found = await Promise.all(
    [musicTempo, audioBeat, aubio].map((find) => find().catch((error: Error) => error.message)),
  );
  return {
    others: found.filter((it) => typeof it !== 'string'),
    missing: found.filter((it) => typeof it === 'string'),
  };
}

/** Many rival beat agents over an onset list (Dixon 2001). It counts in samples of 44.1 kHz. */
async function musicTempo(): Promise<Other> {
  const { default: MusicTempo } = await import('music-tempo');
  return {
    name: 'music-tempo',
    async hear(samples) {
      const { beats, tempo } = new MusicTempo(mixdown(samples));
      const scale = 44_100 / samples.rate;
      return { beats: beats.map((t) => t * scale), tempo: Number(tempo) / scale };
    },
  };
}

/** Dynamic programming over an onset curve (Ellis 2007). */
async function audioBeat(): Promise<Other> {
  const { beatTrack } = await import('@audio/beat');
  return {
    name: '@audio/beat',
    async hear(samples) {
      const { beats, bpm } = beatTrack(mixdown(samples), { fs: samples.rate });
      return { beats: [...beats], tempo: bpm };
    },
  };
}

/** A program on the PATH: the beats it prints, and the tempo of their median interval. Decoding is in its time. */
async function aubio(): Promise<Other> {
  const call = promisify(execFile);
  await call('aubio', ['--version']);
  return {
    name: 'aubio (program)',
    async hear(_, path) {
      const { stdout } = await call('aubio', ['beat', '-i', path], { maxBuffer: 1 << 24 });
      const beats = stdout.split('\n').map(Number.parseFloat).filter(Number.isFinite);
      return { beats, tempo: tempoOf(beats) };
    },
  };
}
