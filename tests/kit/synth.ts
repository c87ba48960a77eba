import type { Samples } from '../../lib/core/signal/samples.ts';

/**
 * Small songs made of sines and noise, whose every beat, bar and section is known because they are computed here. For tests only: they are
 * far plainer than music, so passing on them shows that nothing is broken, not how well songs are heard.
 */
export interface SynthSection {
  /** Chords, one a bar, repeated over `bars`: semitones of the root above C, with `m` for minor. */
  chords: readonly string[];
  bars: number;
  like: string;
  /** 0 to 1: level, and how many parts play. */
  level: number;
}

export interface SynthSong {
  rate?: number;
  bpm: number;
  beats: 2 | 3 | 4;
  subdivision: 2 | 3;
  sections: readonly SynthSection[];
  /** Seconds of silence before the first beat. */
  lead?: number;
  drums?: boolean;
  /** Seconds that the last chord rings; 1.5 by itself. */
  ring?: number;
  /** Tempo swing up and down, as a share. */
  drift?: number;
  seed?: number;
}

export interface Synthesised {
  samples: Samples;
  beats: number[];
  bars: number[];
  sections: { start: number; end: number; like: string }[];
}

/** Numbers from 0 up to but not including 1, the same at every run of a seed: mulberry32, a public-domain generator by T. Ettinger. */
export function dice(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Invented pop form, about 100 s at 120 beats a minute in four. */
export const plainForm: readonly SynthSection[] = [
  { chords: ['0', '5', '0', '7'], bars: 4, like: 'A', level: 0.3 },
  { chords: ['0', '7', '9m', '5'], bars: 8, like: 'B', level: 0.5 },
  { chords: ['5', '0', '7', '9m'], bars: 8, like: 'C', level: 1 },
  { chords: ['0', '7', '9m', '5'], bars: 8, like: 'B', level: 0.5 },
  { chords: ['5', '0', '7', '9m'], bars: 8, like: 'C', level: 1 },
  { chords: ['2m', '4m', '5', '7'], bars: 8, like: 'D', level: 0.6 },
  { chords: ['5', '0', '7', '9m'], bars: 8, like: 'C', level: 1 },
];

/** Renders a song; mono. Its last bar is a held chord without beats of its own after the first. */
export function synth(song: SynthSong): Synthesised {
  const rate = song.rate ?? 22050;
  const ring = song.ring ?? 1.5;
  const random = dice(song.seed ?? 1);
  const total = song.sections.reduce((sum, s) => sum + s.bars, 0) * song.beats;
  const times = [song.lead ?? 0.5];
  for (let i = 0; i < total; i++) {
    const sway = 1 + (song.drift ?? 0) * Math.sin((2 * Math.PI * i) / 64);
    times.push(times[i]! + 60 / (song.bpm * sway));
  }
  const x = new Float32Array(Math.ceil((times[total]! + ring + 0.5) * rate));
  const beats: number[] = [];
  const bars: number[] = [];
  const sections: Synthesised['sections'] = [];
  let at = 0;
  for (const section of song.sections) {
    const start = times[at]!;
    for (let bar = 0; bar < section.bars; bar++) {
      const chord = section.chords[bar % section.chords.length]!;
      const bar0 = at;
      bars.push(times[at]!);
      for (let b = 0; b < song.beats; b++, at++) {
        const [from, to] = [times[at]!, times[at + 1]!];
        beats.push(from);
        if (b === 0)
          tones(
            x,
            rate,
            from,
            (times[bar0 + song.beats]! - from) * 0.95,
            bassOf(chord),
            0.3 * (0.5 + section.level / 2),
          );
        tones(x, rate, from, (to - from) * 0.9, chordOf(chord), 0.07 * (0.5 + section.level));
        for (let p = 1; p < song.subdivision; p++) {
          tones(x, rate, from + (p * (to - from)) / song.subdivision, 0.12, chordOf(chord).slice(0, 1), 0.05);
        }
        if (song.drums !== false && section.level > 0.4)
          drum(x, rate, from, to, b, song, section.level, random);
      }
    }
    sections.push({ start, end: times[at]!, like: section.like });
  }
  tones(x, rate, times[total]!, ring, chordOf(song.sections.at(-1)!.chords[0]!), 0.05);
  return { samples: { rate, channels: [x] }, beats, bars, sections };
}

const rootOf = (chord: string): number => Number.parseInt(chord, 10);
const bassOf = (chord: string): number[] => [36 + rootOf(chord)];
const chordOf = (chord: string): number[] =>
  [0, chord.endsWith('m') ? 3 : 4, 7].map((step) => 60 + ((rootOf(chord) + step) % 12));

/** Plucked tones with three harmonics that die away. */
function tones(
  x: Float32Array,
  rate: number,
  at: number,
  length: number,
  pitches: number[],
  gain: number,
): void {
  const from = Math.round(at * rate);
  const count = Math.min(x.length - from, Math.round(length * rate));
  for (const pitch of pitches) {
    const w = (2 * Math.PI * 440 * 2 ** ((pitch - 69) / 12)) / rate;
    for (let i = 0; i < count; i++) {
      const fall = Math.exp((-2.5 * i) / rate / Math.max(0.3, length)) * Math.min(1, i / (0.004 * rate));
      const close = Math.min(1, (count - i) / (0.01 * rate));
      x[from + i]! +=
        gain * fall * close * (Math.sin(w * i) + 0.4 * Math.sin(2 * w * i) + 0.2 * Math.sin(3 * w * i));
    }
  }
}

function drum(
  x: Float32Array,
  rate: number,
  at: number,
  next: number,
  beat: number,
  song: SynthSong,
  level: number,
  random: () => number,
): void {
  const kick = song.beats === 3 ? beat === 0 : beat % 2 === 0;
  const from = Math.round(at * rate);
  if (kick) {
    for (let i = 0; i < 0.12 * rate; i++) {
      x[from + i]! +=
        0.4 * level * Math.exp((-30 * i) / rate) * Math.sin((2 * Math.PI * 60 * i) / rate + 1.5);
    }
  } else noise(x, rate, from, 0.1, 0.18 * level, random);
  for (let p = 0; p < song.subdivision; p++) {
    noise(
      x,
      rate,
      Math.round((at + (p * (next - at)) / song.subdivision) * rate),
      0.02,
      0.06 * level,
      random,
    );
  }
}

function noise(
  x: Float32Array,
  rate: number,
  from: number,
  length: number,
  gain: number,
  random: () => number,
): void {
  for (let i = 0; i < length * rate && from + i < x.length; i++) {
    x[from + i]! += gain * Math.exp((-4 * i) / rate / length) * (2 * random() - 1);
  }
}

/** White noise of the given seconds and amplitude. */
export function whiteNoise(seconds: number, rate = 22050, seed = 3): Samples {
  const random = dice(seed);
  return {
    rate,
    channels: [Float32Array.from({ length: Math.round(seconds * rate) }, () => 0.3 * (2 * random() - 1))],
  };
}

/** Syllable-like bursts of noise and voice at irregular times, with pauses between sentences: the rhythm of speech, no words. */
export function mumble(seconds: number, rate = 22050, seed = 5): Samples {
  const random = dice(seed);
  const x = new Float32Array(Math.round(seconds * rate));
  let at = 0.3;
  while (at < seconds - 0.5) {
    const length = 0.08 + 0.22 * random();
    const pitch = 100 + 60 * random();
    const from = Math.round(at * rate);
    const count = Math.round(length * rate);
    for (let i = 0; i < count; i++) {
      const shape = Math.sin((Math.PI * i) / count);
      let voice = 0;
      for (let h = 1; h < 12; h++) voice += Math.sin((2 * Math.PI * pitch * h * i) / rate) / h;
      x[from + i]! += 0.1 * shape * voice;
    }
    if (random() < 0.5) noise(x, rate, from, 0.06, 0.1, random);
    at += length + 0.03 + 0.12 * random() + (random() < 0.12 ? 0.3 + 0.7 * random() : 0);
  }
  return { rate, channels: [x] };
}

/** A pure tone in each of `channels` channels. */
export function sine(
  hertz: number,
  amplitude: number,
  seconds: number,
  rate: number,
  phase = 0,
  channels = 1,
): Samples {
  const x = Float32Array.from(
    { length: Math.round(seconds * rate) },
    (_, i) => amplitude * Math.sin((2 * Math.PI * hertz * i) / rate + phase),
  );
  return { rate, channels: Array.from({ length: channels }, () => x) };
}
