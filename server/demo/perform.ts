import type { Samples } from '../../lib/core/signal/samples.ts';
import { chordOf, pitchOf, voicing } from './harmony.ts';
import { lay, type Mix, newMix, noiseFrom } from './mix.ts';
import { inRoom, mastered } from './room.ts';
import { BEATS_PER_BAR, type Player } from './song.ts';
import { barsOf, type Laid, layOut, songLength } from './timeline.ts';
import { type Bowed, bassPluck, bell, bowed, brush, padVoice, pluck, thump } from './voices.ts';

/** A chord as it is sounded: when, how long, its four voices and its bass. */
interface Sounded {
  at: number;
  end: number;
  /** Beat of the bar on which it begins, and how many it lasts. */
  beat: number;
  beats: number;
  bar: number;
  voices: number[];
  bass: number;
}

/** Plays the whole song. Deterministic: the same samples on every run of one engine. */
export function perform(rate: number): Samples {
  const laid = layOut();
  const mix = newMix(rate, songLength(laid));
  const hand = noiseFrom(2027);
  let voices: number[] = [];
  for (const [index, part] of laid.entries()) {
    const sounded: Sounded[] = [];
    for (const chord of chordsOf(part)) {
      voices = voicing(chord.chord, voices);
      const bass = chord.chord.bass + (chord.chord.bass < 4 ? 48 : 36);
      sounded.push({ ...chord, voices, bass });
    }
    accompany(mix, part, sounded, hand, index === laid.length - 1);
    sing(mix, part, hand);
    ornaments(mix, part, sounded);
  }
  const channels = inRoom(mix);
  mastered(channels, rate, 0.105, 0.84);
  return { rate, channels };
}

function* chordsOf(laid: Laid) {
  for (const [bar, text] of barsOf(laid.part.chords).entries()) {
    let beat = 0;
    const names = text.split(/\s+/);
    for (const name of names) {
      const [chord = '', length] = name.split(':');
      const beats = length ? Number(length) : BEATS_PER_BAR / names.length;
      const first = bar * BEATS_PER_BAR + beat;
      yield {
        chord: chordOf(chord),
        at: laid.beats[first]!,
        end: laid.beats[first + beats]!,
        beat,
        beats,
        bar,
      };
      beat += beats;
    }
  }
}

/** Time of a place between two beats of a part. */
const timeAt = (laid: Laid, beat: number): number => {
  const i = Math.min(Math.floor(beat), laid.beats.length - 2);
  return laid.beats[i]! + (beat - i) * (laid.beats[i + 1]! - laid.beats[i]!);
};

/** Strength at a beat: from the part's first to its last, with a swell over every four bars. */
function strengthAt(laid: Laid, beat: number): number {
  const [from, to] = laid.part.strength;
  const along = beat / (laid.bars * BEATS_PER_BAR);
  return from + (to - from) * along + 0.05 * Math.sin(Math.PI * ((beat / (4 * BEATS_PER_BAR)) % 1));
}

function accompany(mix: Mix, laid: Laid, chords: Sounded[], hand: () => number, last: boolean): void {
  const plays = (player: Player): boolean => laid.part.players.includes(player);
  for (const [n, chord] of chords.entries()) {
    const first = chord.bar * BEATS_PER_BAR + chord.beat;
    const strength = strengthAt(laid, first);
    const ring = last && chord.bar === laid.bars - 2;
    if (last && chord.bar === laid.bars - 1) continue; // The last chord rings through the last bar.
    const length = ring ? 6.5 : chord.end - chord.at;
    const held = (sound: Float32Array): Float32Array => (ring ? dying(sound) : sound);
    if (plays('harp')) harp(mix, laid, chord, first, strength, hand, ring);
    if (plays('pad')) pad(mix, chord, length, strength, held);
    if (plays('low strings')) {
      const place = { gain: 0.1 + 0.16 * strength, pan: 0.3, room: 0.5 };
      lay(mix, chord.at, held(bowed('low', chord.bass, length, strength * 0.8, mix.rate, n + 1)), place);
      const fifth = chord.voices[0]!;
      lay(mix, chord.at, held(bowed('low', fifth, length, strength * 0.6, mix.rate, n + 51)), {
        ...place,
        gain: place.gain * 0.55,
        pan: 0.12,
      });
    }
    if (plays('bass')) {
      const place = { gain: 0.3 + 0.28 * strength, pan: -0.05, room: 0.16 };
      lay(
        mix,
        chord.at + 0.004 * hand(),
        bassPluck(chord.bass - 12 < 28 ? chord.bass : chord.bass - 12, ring ? 4 : 1.5, mix.rate),
        place,
      );
    }
    if (plays('brushes') && chord.beat === 0) brushes(mix, laid, chord.bar, strength);
  }
}

/** The last chord is let go slowly: about 14 dB softer after four seconds. */
const dying = (sound: Float32Array): Float32Array => sound.map((x, i) => x * (1 - i / sound.length) ** 2);

/** Six eighths a bar: the bass string, then up and down the four voices; the first of each bar a little firmer. */
function harp(
  mix: Mix,
  laid: Laid,
  chord: Sounded,
  first: number,
  strength: number,
  hand: () => number,
  ring: boolean,
): void {
  const [a, b, c, d] = chord.voices as [number, number, number, number];
  const figure = [chord.bass, b, c, d, c, b];
  const play = (pitch: number, at: number, firm: number, seconds: number): void => {
    const force = Math.min(1, strength * firm);
    const sound = pluck(pitch, seconds, force * 0.8, mix.rate, pitch * 131 + Math.round(at * 7));
    lay(mix, at, sound, { gain: 0.16 + 0.2 * force, pan: (pitch - 62) / 32, room: 0.42 });
  };
  if (ring) {
    for (const [i, pitch] of [chord.bass, a, b, c, d, d + 12 - ((d - 67) % 12)].entries())
      play(pitch, chord.at + 0.055 * i, 1.1, 6.5);
    return;
  }
  for (let half = 0; half < chord.beats * 2; half++) {
    const inBar = chord.beat * 2 + half;
    const pitch = half === 0 ? chord.bass : figure[inBar]!;
    const firm = inBar === 0 ? 1.25 : inBar % 2 === 0 ? 1 : 0.78;
    play(pitch, timeAt(laid, first + half / 2) + 0.005 * (hand() + 1) * (half === 0 ? 0.3 : 1), firm, 2.6);
  }
}

function pad(
  mix: Mix,
  chord: Sounded,
  length: number,
  strength: number,
  held: (sound: Float32Array) => Float32Array,
): void {
  for (const [v, pitch] of chord.voices.entries()) {
    for (const [cents, pan] of [
      [-6, -0.8],
      [1, 0],
      [7, 0.8],
    ] as const) {
      const sound = padVoice(pitch, length, strength * 0.7, mix.rate, cents + v);
      lay(mix, chord.at, held(sound), { gain: 0.045 + 0.06 * strength, pan: pan * 0.9, room: 0.7 });
    }
  }
}

function brushes(mix: Mix, laid: Laid, bar: number, strength: number): void {
  const beat = (n: number): number => timeAt(laid, bar * BEATS_PER_BAR + n);
  lay(mix, beat(0), thump(mix.rate), { gain: 0.3 * strength, pan: 0, room: 0.15 });
  lay(mix, beat(0), brush(false, 0.2, mix.rate, 3 * bar), { gain: 0.12 * strength, pan: -0.15, room: 0.3 });
  for (const n of [1, 2]) {
    lay(mix, beat(n), brush(false, 0.25, mix.rate, 3 * bar + n), {
      gain: 0.24 * strength,
      pan: 0.2,
      room: 0.35,
    });
  }
  lay(mix, beat(0.5), brush(true, 0.9, mix.rate, 900 + bar), {
    gain: 0.07 * strength,
    pan: 0.35,
    room: 0.35,
  });
}

const SINGERS: Partial<Record<Player, { voice: Bowed; shift: number; gain: number; pan: number }>> = {
  fiddle: { voice: 'fiddle', shift: 0, gain: 0.34, pan: -0.22 },
  'fiddle high': { voice: 'fiddle', shift: 12, gain: 0.17, pan: 0.25 },
  'fiddle low': { voice: 'fiddle', shift: -12, gain: 0.36, pan: -0.22 },
  reed: { voice: 'reed', shift: 0, gain: 0.34, pan: 0.16 },
};

/** The tune, legato, a little firmer towards its highest notes. */
function sing(mix: Mix, laid: Laid, hand: () => number): void {
  let beat = 0;
  for (const bar of barsOf(laid.part.tune)) {
    const words = bar.split(/\s+/);
    for (let i = 0; i < words.length; i += 2) {
      const beats = Number(words[i + 1]);
      if (words[i] !== 'r') note(pitchOf(words[i]!), beat, beats);
      beat += beats;
    }
  }
  function note(pitch: number, from: number, beats: number): void {
    const at = timeAt(laid, from) + 0.006 * hand();
    const rings = laid.part.kind === 'outro' && from >= (laid.bars - 2) * BEATS_PER_BAR;
    const length = rings ? 6.5 : timeAt(laid, from + beats) - at;
    const strength = Math.min(1, strengthAt(laid, from) + (pitch - 72) * 0.012);
    for (const player of laid.part.players) {
      const singer = SINGERS[player];
      const seed = Math.round(from * 8) + pitch;
      if (singer) {
        const sound = bowed(singer.voice, pitch + singer.shift, length, strength, mix.rate, seed);
        lay(mix, at - 0.02, rings ? dying(sound) : sound, {
          gain: singer.gain * (0.45 + 0.6 * strength),
          pan: singer.pan,
          room: 0.5,
        });
      }
      if (player === 'reed thirds') {
        const sound = bowed('reed', below(laid, pitch, from), length, strength * 0.8, mix.rate, seed + 9);
        lay(mix, at - 0.015, sound, { gain: 0.2 * strength, pan: 0.3, room: 0.5 });
      }
    }
  }
}

/** The chord's own tone a third to a sixth under a note of the tune. */
function below(laid: Laid, pitch: number, beat: number): number {
  const chord = [...chordsOf(laid)].find((c) => beat < c.bar * BEATS_PER_BAR + c.beat + c.beats)!;
  for (let under = pitch - 3; under >= pitch - 9; under--)
    if (chord.chord.tones.includes(under % 12)) return under;
  return pitch - 12;
}

/** Bells on the first two beats of their bars, and a harp run up over the part's last bar. */
function ornaments(mix: Mix, laid: Laid, chords: Sounded[]): void {
  for (const bar of laid.part.bells ?? []) {
    for (const [n, pitch] of [86, 91].entries()) {
      lay(mix, timeAt(laid, bar * BEATS_PER_BAR + n), bell(pitch, 5, mix.rate), {
        gain: 0.2,
        pan: n === 0 ? -0.4 : 0.4,
        room: 0.8,
      });
    }
  }
  if (!laid.part.run) return;
  const tones = chords.at(-1)!.voices.map((p) => p % 12);
  const ladder: number[] = [];
  for (let p = 55; ladder.length < 13; p++) if (tones.includes(p % 12)) ladder.push(p);
  const from = (laid.bars - 1) * BEATS_PER_BAR + 1;
  for (const [i, pitch] of ladder.entries()) {
    const at = timeAt(laid, from + (2 * i) / ladder.length);
    lay(mix, at, pluck(pitch, 2.2, 0.75, mix.rate, pitch * 17), {
      gain: 0.3 + 0.012 * i,
      pan: -0.5 + i / 13,
      room: 0.5,
    });
  }
}
