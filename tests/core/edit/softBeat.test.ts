import { describe, expect, it } from 'vitest';
import { softBeatError } from '../../../lib/core/edit/softBeat.ts';
import { dice, whiteNoise } from '../../kit/synth.ts';

const RATE = 22_050;
/** Tempo of the two halves, as a singer of a ballad breathes: beats of 0.66 and 0.69 s. */
const BEATS = [0.66, 0.69] as const;
/** Chords a bar of three, semitones above C; the second half plays other ones. */
const CHORDS = [
  [0, 9, 5, 7],
  [5, 2, 9, 7],
] as const;

/**
 * Two stretches of eight bars in three without drums: a plucked broken chord on the eighths, its strings struck up to 4 ms late, and
 * a bowed tune on the beats that takes 90 ms to speak. Neither music nor tempo is alike in the two.
 */
function softSong(seed: number, plucked: boolean) {
  const random = dice(seed);
  const x = new Float32Array(40 * RATE);
  const note = (at: number, semitone: number, length: number, gain: number, rise: number, fall: number) => {
    const w = (2 * Math.PI * 261.6 * 2 ** (semitone / 12)) / RATE;
    const from = Math.round(at * RATE);
    for (let i = 0; i < length * RATE; i++) {
      const t = i / RATE;
      const shape = Math.min(1, t / rise, (length - t) / 0.06) * Math.exp(-fall * t);
      x[from + i]! +=
        gain * shape * (Math.sin(w * i) + 0.5 * Math.sin(2 * w * i) + 0.25 * Math.sin(3 * w * i));
    }
  };
  const middles: number[] = [];
  let at = 0.5;
  for (const [half, beat] of BEATS.entries()) {
    for (let bar = 0; bar < 8; bar++) {
      if (bar === 4) middles.push(at);
      const root = CHORDS[half]![bar % 4]!;
      for (let eighth = 0; plucked && eighth < 6; eighth++) {
        const semitone = root - 12 + [0, 7, 12, 16, 12, 7][eighth]!;
        note(at + (eighth * beat) / 2 + 0.004 * random(), semitone, 1.2, 0.12, 0.003, 2.5);
      }
      for (let b = 0; b < 3; b++) {
        const tone = root + [0, 4, 7, 12][Math.floor(4 * random())]!;
        note(at + b * beat - 0.02 + 0.006 * random(), tone, beat, 0.12, 0.09, 0);
      }
      at += 3 * beat;
    }
  }
  return { samples: { rate: RATE, channels: [x] }, middles };
}

const place = (at: number, half: 0 | 1) => ({ timeAt: (beats: number) => at + beats * BEATS[half] });
const BEAT = (BEATS[0] + BEATS[1]) / 2;

describe('the beat error of soft music, where the truth is known', () => {
  it.each([
    ['plucked and bowed', true, 4],
    ['bowed alone', false, 8],
  ] as const)('%s: 0, 5, 10, 20 and 40 ms either way', (_, plucked, within) => {
    const off: number[] = [];
    for (const seed of [1, 2, 3]) {
      const { samples, middles } = softSong(seed, plucked);
      for (const ms of [0, 5, -5, 10, -10, 20, -20, 40, -40]) {
        const found = softBeatError(samples, place(middles[0]!, 0), place(middles[1]! - ms / 1000, 1), BEAT);
        if (!found) continue;
        off.push(Math.abs(1000 * found.error - ms));
        // What it says of its own exactness holds: three standard deviations.
        expect(off.at(-1)! / 1000).toBeLessThan(3 * found.uncertainty);
        expect(found.uncertainty).toBeLessThanOrEqual(0.01);
      }
    }
    expect(off.length).toBeGreaterThanOrEqual(18);
    expect(Math.max(...off)).toBeLessThan(within);
  });

  it('says nothing of noise, silence and held tones', () => {
    const of = (samples: { rate: number; channels: Float32Array[] }) =>
      softBeatError(samples, place(8, 0), place(24, 1), BEAT);
    expect(of(whiteNoise(40))).toBeNull();
    expect(of({ rate: RATE, channels: [new Float32Array(40 * RATE)] })).toBeNull();
    const held = Float32Array.from(
      { length: 40 * RATE },
      (_, i) => 0.2 * Math.sin(i / 9) + 0.1 * Math.sin(i / 7),
    );
    expect(of({ rate: RATE, channels: [held] })).toBeNull();
  });
});
