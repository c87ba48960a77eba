import { lengthOf, type Samples } from '../../../lib/core/signal/samples.ts';
import { dice, type SynthSection, synth } from '../../kit/synth.ts';

const RATE = 22_050;
const parts: SynthSection[] = [
  { chords: ['0', '5', '0', '7'], bars: 2, like: 'A', level: 0.3 },
  { chords: ['0', '7', '9m', '5'], bars: 6, like: 'B', level: 0.5 },
  { chords: ['5', '0', '7', '9m'], bars: 6, like: 'C', level: 1 },
  { chords: ['0', '7', '9m', '5'], bars: 6, like: 'B', level: 0.5 },
  { chords: ['5', '0', '7', '9m'], bars: 6, like: 'C', level: 1 },
];

/** Some 65 s of plain music with a melody of its own, drawn by the seed, so that no two bars are quite the same. */
export function song(seed: number, bpm = 96, rate = RATE): Samples {
  const { samples, beats } = synth({ bpm, beats: 4, subdivision: 2, rate, sections: parts, seed });
  const random = dice(seed * 77);
  const x = samples.channels[0]!;
  for (const beat of beats) {
    const hertz = 330 * 2 ** (Math.floor(random() * 19) / 12);
    const from = Math.round((beat + 0.04 * random()) * rate);
    const length = Math.round((0.2 + 0.4 * random()) * rate);
    for (let i = 0; i < length && from + i < x.length; i++) {
      const shape = Math.min(1, i / 300) * (1 - i / length);
      const w = (2 * Math.PI * hertz * i) / rate;
      x[from + i]! += 0.15 * shape * (Math.sin(w) + 0.5 * Math.sin(2 * w) + 0.3 * Math.sin(3 * w));
    }
  }
  return samples;
}

/** The same, later by so many seconds of silence. */
export const later = ({ rate, channels }: Samples, seconds: number): Samples => ({
  rate,
  channels: channels.map((channel) => {
    const silent = Math.round(seconds * rate);
    const out = new Float32Array(silent + channel.length);
    out.set(channel, silent);
    return out;
  }),
});

/** As a turntable plays it: `ratio` times as long, the pitch with it. */
export const turned = ({ rate, channels }: Samples, ratio: number): Samples => ({
  rate,
  channels: channels.map((channel) =>
    Float32Array.from({ length: Math.floor(channel.length * ratio) }, (_, i) => {
      const at = i / ratio;
      const low = Math.floor(at);
      const next = channel[low + 1] ?? 0;
      return channel[low]! + (at - low) * (next - channel[low]!);
    }),
  ),
});

/** The parts between the given seconds, laid end to end. */
export const pieces = ({ rate, channels }: Samples, stretches: [number, number][]): Samples => ({
  rate,
  channels: channels.map((channel) => {
    const parts = stretches.map(([from, to]) =>
      channel.slice(Math.round(from * rate), Math.round(to * rate)),
    );
    const out = new Float32Array(parts.reduce((sum, part) => sum + part.length, 0));
    let at = 0;
    for (const part of parts) {
      out.set(part, at);
      at += part.length;
    }
    return out;
  }),
});

/** Quieter, duller and with a hiss: what a poor copy does. */
export function worn(samples: Samples, seed = 5): Samples {
  const random = dice(seed);
  const length = lengthOf(samples);
  return {
    rate: samples.rate,
    channels: samples.channels.map((channel) => {
      const out = new Float32Array(length);
      let low = 0;
      for (let i = 0; i < length; i++) {
        low += 0.3 * (channel[i]! - low);
        out[i] = 0.3 * low + 0.004 * (2 * random() - 1);
      }
      return out;
    }),
  };
}
