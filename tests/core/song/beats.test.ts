import { describe, expect, it } from 'vitest';
import { heardBeats, playedBeats } from '../../../lib/core/song/beats.ts';
import type { Frames } from '../../../lib/core/song/frames.ts';
import { dice } from '../../kit/synth.ts';

const BEAT = 0.5;
const beats = Array.from({ length: 72 }, (_, i) => 0.5 + i * BEAT);

/** Sixty beats played, then twelve over whatever goes on after them: onsets of so many seconds off the beat, at a level in dB. */
function frames(after: { off: (beat: number) => number; strength: number; level: number }): Frames {
  const [onsetRate, toneRate, seconds] = [100, 20, 38];
  const onset = new Float32Array(onsetRate * seconds);
  const bands = new Float32Array(6 * toneRate * seconds);
  beats.forEach((t, i) => {
    const at = i < 60 ? t : t + after.off(i);
    onset[Math.round(at * onsetRate)] = i < 60 ? 3 : after.strength;
  });
  const end = 6 * Math.round((beats[60]! - BEAT / 4) * toneRate);
  bands.fill((after.level * Math.LN10) / 10, end);
  const none = new Float32Array(0);
  const net = { steps: 0, rate: onsetRate / 4, bands: none, tones: none };
  return { onsetRate, onset, low: none, high: none, toneRate, chroma: none, bass: none, bands, net };
}

/** Anywhere between two beats. */
const anywhere = (): (() => number) => {
  const random = dice(7);
  return () => (random() - 0.5) * BEAT;
};

describe('where the music ends', () => {
  it('is where softer sounds go on that keep no time, though they are heard near most beats', () => {
    const speech = frames({ off: anywhere(), strength: 2, level: -10 });
    expect(playedBeats(speech, beats)).toBeGreaterThanOrEqual(59);
    expect(playedBeats(speech, beats)).toBeLessThanOrEqual(63);
    const near = frames({ off: (i) => (i % 2 === 0 ? 0.02 : 0.12), strength: 2, level: -10 });
    expect(heardBeats(near, beats).at(-1)).toBeGreaterThan(66);
    expect(playedBeats(near, beats)).toBeLessThanOrEqual(61);
  });

  it('is not where the music only grows soft', () => {
    expect(playedBeats(frames({ off: () => 0, strength: 2, level: -14 }), beats)).toBe(72);
  });

  it('is not where music as loud as before is free of the beat', () => {
    expect(playedBeats(frames({ off: anywhere(), strength: 2, level: -3 }), beats)).toBe(72);
  });

  it('leaves none and one as they are', () => {
    const any = frames({ off: () => 0, strength: 2, level: 0 });
    expect([playedBeats(any, []), playedBeats(any, [1])]).toEqual([0, 1]);
  });
});
