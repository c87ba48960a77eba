import { describe, expect, it } from 'vitest';
import { eventF } from '../../../lib/core/song/metrics.ts';
import { track, trackFreely } from '../../../lib/core/song/pulse.ts';

const RATE = 100;

/** A curve that shows a sure beat, three deviations high, at each of the moments, and nothing else. */
function curveOf(beats: readonly number[]): Float32Array {
  const curve = new Float32Array(Math.ceil((beats.at(-1)! + 1) * RATE));
  for (const t of beats) curve[Math.round(t * RATE)] = 3;
  return curve;
}

/** 24 phrases of eight beats that quicken to their middle by a quarter; every third ends on a note held for two beats. */
function playedFreely(): number[] {
  const beats = [0.5];
  for (let k = 0; k < 192; k++) {
    const arch = 1 + 0.28 * (((k % 8) / 7 - 0.5) ** 2 * 4 - 0.5);
    const held = k % 24 === 23 ? 2 : 1;
    beats.push(beats.at(-1)! + 0.6 * arch * held);
  }
  return beats;
}

describe('chains of beats', () => {
  it('go along with phrases that quicken, slow down and wait, where steady ones cannot', () => {
    const beats = playedFreely();
    const curve = curveOf(beats);
    expect(eventF(beats, trackFreely(curve, RATE, 0.6), 0.07)).toBeGreaterThan(0.94);
    expect(eventF(beats, track(curve, RATE, 0.6), 0.07)).toBeLessThan(0.8);
  });

  it('are the same for music that keeps time', () => {
    const beats = Array.from({ length: 200 }, (_, k) => 0.5 + 0.5 * k);
    const curve = curveOf(beats);
    expect(eventF(beats, trackFreely(curve, RATE, 0.5), 0.02)).toBeGreaterThan(0.99);
    expect(eventF(beats, track(curve, RATE, 0.5), 0.02)).toBeGreaterThan(0.99);
  });
});
