import { hertz } from './harmony.ts';
import { noiseFrom } from './mix.ts';

/**
 * The instruments. Each gives the samples of one note, about 1 at its loudest, for a MIDI pitch, a length in seconds and a strength
 * of 0 to 1 that changes how bright it is, not only how loud.
 */

/** Fixed mean frequency of the body of a plucked or bowed instrument is left out: the room and the spectra are enough. */
const TABLE = 2048;
const tables = new Map<string, Float32Array>();

/** One period of a sum of harmonics below 9 kHz, its energy 1. */
function period(name: string, pitch: number, weight: (harmonic: number) => number): Float32Array {
  const key = `${name} ${pitch}`;
  const known = tables.get(key);
  if (known) return known;
  const table = new Float32Array(TABLE);
  const top = Math.max(1, Math.min(40, Math.floor(9000 / hertz(pitch))));
  let energy = 0;
  for (let h = 1; h <= top; h++) {
    const w = weight(h);
    energy += w * w;
    for (let i = 0; i < TABLE; i++) table[i]! += w * Math.sin((2 * Math.PI * h * i) / TABLE + h * h);
  }
  const scale = 1 / Math.sqrt(energy);
  for (let i = 0; i < TABLE; i++) table[i]! *= scale;
  tables.set(key, table);
  return table;
}

const look = (table: Float32Array, phase: number): number => {
  const x = (phase - Math.floor(phase)) * TABLE;
  const i = Math.floor(x);
  const a = table[i]!;
  return a + (table[(i + 1) % TABLE]! - a) * (x - i);
};

/** A plucked string (Karplus and Strong 1983, with Jaffe and Smith's fractional tuning and pick position). */
export function pluck(
  pitch: number,
  seconds: number,
  strength: number,
  rate: number,
  seed: number,
): Float32Array {
  const out = new Float32Array(Math.ceil(seconds * rate));
  const length = rate / hertz(pitch);
  const delay = Math.floor(length - 0.5);
  const fraction = length - 0.5 - delay;
  const tune = (1 - fraction) / (1 + fraction);
  const string = new Float32Array(delay);
  const noise = noiseFrom(seed);
  const bright = 0.12 + 0.5 * strength;
  let soft = 0;
  for (let i = 0; i < delay; i++) {
    soft += bright * (noise() - soft);
    string[i] = soft;
  }
  const pick = Math.max(1, Math.round(delay * 0.27));
  const excited = string.map((x, i) => x - 0.8 * string[(i + delay - pick) % delay]!);
  const mean = excited.reduce((sum, x) => sum + x, 0) / delay;
  const peak = Math.sqrt(excited.reduce((sum, x) => sum + (x - mean) ** 2, 0) / delay) * 2;
  for (let i = 0; i < delay; i++) string[i] = (excited[i]! - mean) / (peak + 1e-9);
  // Sixty decibels in about four seconds in the middle, longer below, as on gut strings.
  const ring = 10 ** (-3 / ((4.5 - (pitch - 55) / 20) * hertz(pitch)));
  let before = 0;
  let passedIn = 0;
  let passedOut = 0;
  for (let i = 0, at = 0; i < out.length; i++, at = (at + 1) % delay) {
    const x = string[at]!;
    out[i] = x;
    const averaged = ring * 0.5 * (x + before);
    before = x;
    passedOut = tune * averaged + passedIn - tune * passedOut;
    passedIn = averaged;
    string[at] = passedOut;
  }
  return shaped(out, rate, 0.002, 0.25);
}

/** Straight rise and fall at the two ends, seconds. */
function shaped(out: Float32Array, rate: number, rise: number, fall: number): Float32Array {
  const up = Math.min(out.length, Math.round(rise * rate));
  const down = Math.min(out.length, Math.round(fall * rate));
  for (let i = 0; i < up; i++) out[i]! *= i / up;
  for (let i = 0; i < down; i++) out[out.length - 1 - i]! *= i / down;
  return out;
}

interface Bowing {
  name: string;
  attack: number;
  release: number;
  /** Depth of vibrato as a share of the frequency, and how many times a second. */
  vibrato: number;
  shake: number;
  breath: number;
  dark(harmonic: number): number;
  light(harmonic: number): number;
}

const BOWINGS = {
  fiddle: {
    name: 'fiddle', attack: 0.09, release: 0.16, vibrato: 0.0045, shake: 5.4, breath: 0.012,
    dark: (h: number) => 1 / h ** 1.7,
    light: (h: number) => (1 / h ** 1.05) * (h >= 5 && h <= 8 ? 1.3 : 1),
  },
  reed: {
    name: 'reed', attack: 0.06, release: 0.12, vibrato: 0.002, shake: 4.6, breath: 0.016,
    dark: (h: number) => (h % 2 === 1 ? 1 : 0.06) / h ** 1.6,
    light: (h: number) => (h % 2 === 1 ? 1 : 0.25) / h ** 1.15,
  },
  low: {
    name: 'low', attack: 0.16, release: 0.3, vibrato: 0.0025, shake: 4.8, breath: 0.008,
    dark: (h: number) => 1 / h ** 1.6,
    light: (h: number) => 1 / h ** 1.15,
  },
} satisfies Record<string, Bowing>; // biome-ignore format: one instrument a stanza
export type Bowed = keyof typeof BOWINGS;

/** A note that is bowed or blown: it swells, turns brighter as it does, and shakes after its beginning. */
export function bowed(
  which: Bowed,
  pitch: number,
  seconds: number,
  strength: number,
  rate: number,
  seed: number,
): Float32Array {
  const how = BOWINGS[which];
  const dark = period(`${how.name} dark`, pitch, how.dark);
  const light = period(`${how.name} light`, pitch, how.light);
  const out = new Float32Array(Math.ceil((seconds + how.release) * rate));
  const noise = noiseFrom(seed);
  const shake = how.shake * (1 + 0.05 * noise());
  let phase = 0;
  let air = 0;
  for (let i = 0; i < out.length; i++) {
    const t = i / rate;
    const shaking = how.vibrato * Math.min(1, Math.max(0, (t - 0.18) / 0.35));
    phase += (hertz(pitch) * (1 + shaking * Math.sin(2 * Math.PI * shake * t))) / rate;
    const swell = 0.82 + 0.18 * Math.sin(Math.PI * Math.min(1, t / seconds));
    const bright = Math.min(1, strength * swell);
    air += 0.25 * (noise() - air);
    const tone = look(dark, phase) * (1 - bright) + look(light, phase) * bright;
    out[i] = 0.5 * swell * (tone + how.breath * air * 3);
  }
  return shaped(out, rate, Math.min(how.attack, seconds / 2), how.release);
}

/** One voice of a body of strings: a slightly detuned player, to be laid several times. */
export function padVoice(
  pitch: number,
  seconds: number,
  strength: number,
  rate: number,
  cents: number,
): Float32Array {
  const table = period('pad', pitch, (h) => 1 / h ** 1.45);
  const soft = period('pad soft', pitch, (h) => 1 / h ** 2.4);
  const release = 0.7;
  const out = new Float32Array(Math.ceil((seconds + release) * rate));
  const step = (hertz(pitch) * 2 ** (cents / 1200)) / rate;
  let phase = Math.abs(cents * 0.137) % 1;
  for (let i = 0; i < out.length; i++) {
    phase += step * (1 + 0.0012 * Math.sin((2 * Math.PI * (4.2 + cents * 0.03) * i) / rate));
    out[i] = 0.4 * (look(soft, phase) * (1 - strength) + look(table, phase) * strength);
  }
  return shaped(out, rate, Math.min(0.45, seconds / 3), release);
}

/** A plucked double bass: few harmonics that die sooner the higher they are. */
export function bassPluck(pitch: number, seconds: number, rate: number): Float32Array {
  const out = new Float32Array(Math.ceil(seconds * rate));
  for (let h = 1; h <= 6; h++) {
    const step = (2 * Math.PI * h * hertz(pitch)) / rate;
    for (let i = 0; i < out.length; i++) {
      out[i]! += (0.6 / h ** 1.2) * Math.exp((-i / rate) * (1.3 + 1.1 * h)) * Math.sin(step * i);
    }
  }
  return shaped(out, rate, 0.006, 0.12);
}

/** Partials of a small bell and how strong each is: minor third, fifth and octave over the hum, as bell founders tune them. */
const BELL = [[0.5, 0.25], [1, 1], [1.2, 0.5], [1.5, 0.3], [2, 0.65], [2.67, 0.25], [3, 0.2], [4.1, 0.12]] as const; // biome-ignore format: pairs

export function bell(pitch: number, seconds: number, rate: number): Float32Array {
  const out = new Float32Array(Math.ceil(seconds * rate));
  for (const [ratio, weight] of BELL) {
    const step = (2 * Math.PI * ratio * hertz(pitch)) / rate;
    const die = 0.55 + 0.45 * ratio;
    for (let i = 0; i < out.length; i++)
      out[i]! += 0.3 * weight * Math.exp((-i / rate) * die) * Math.sin(step * i);
  }
  return shaped(out, rate, 0.001, 0.4);
}

/** A stroke of the brushes: `swish` is drawn over the skin, otherwise a tap. */
export function brush(swish: boolean, seconds: number, rate: number, seed: number): Float32Array {
  const out = new Float32Array(Math.ceil(seconds * rate));
  const noise = noiseFrom(seed);
  let low = 0;
  let lower = 0;
  for (let i = 0; i < out.length; i++) {
    const t = i / rate;
    const x = noise();
    low += 0.55 * (x - low);
    lower += 0.16 * (low - lower);
    const envelope = swish ? Math.sin((Math.PI * t) / seconds) ** 1.5 : Math.exp(-t * 26);
    out[i] = (low - lower) * envelope;
  }
  return shaped(out, rate, swish ? 0.02 : 0.001, 0.02);
}

/** The drum's skin under the brush on the first beat: soft and low. */
export function thump(rate: number): Float32Array {
  const out = new Float32Array(Math.ceil(0.35 * rate));
  let phase = 0;
  for (let i = 0; i < out.length; i++) {
    const t = i / rate;
    phase += (2 * Math.PI * (58 + 34 * Math.exp(-t * 30))) / rate;
    out[i] = Math.exp(-t * 11) * Math.sin(phase);
  }
  return shaped(out, rate, 0.002, 0.05);
}
