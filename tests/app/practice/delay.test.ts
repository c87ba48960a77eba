import { describe, expect, it } from 'vitest';
import { CLICK_EVERY, CLICK_FIRST, delayOf, TAPS } from '../../../app/_practice/delay.ts';
import { dice } from '../../kit/synth.ts';

/** Taps that lie so many seconds after their clicks, each with a scatter of its own. */
const taps = (late: number, scatter: (i: number) => number = () => 0, from = 1): number[] =>
  Array.from({ length: TAPS }, (_, i) => CLICK_FIRST + (i + from) * CLICK_EVERY + late + scatter(i));

describe('how late a device’s sound is, by tapping along', () => {
  it.each([0, 0.04, 0.18, 0.3, 0.5])('%d s is found', (late) => {
    expect(delayOf(taps(late))).toBeCloseTo(late, 9);
  });

  it('within 30 ms, for people who tap some tens of ms to either side', () => {
    // Scatter of trained and untrained tappers is 20 to 40 ms (from memory of studies of tapping).
    const random = dice(7);
    for (let person = 0; person < 200; person++) {
      const found = delayOf(taps(0.2, () => 0.035 * (random() + random() + random() - 1.5)));
      expect(Math.abs(found! - 0.2)).toBeLessThanOrEqual(0.03);
    }
  });

  it('whichever click is tapped to first, and however the first two go', () => {
    expect(delayOf(taps(0.18, (i) => (i < 2 ? 0.3 : 0), 4))).toBeCloseTo(0.18, 9);
  });

  it('one tap that went astray does not matter', () => {
    expect(delayOf(taps(0.18, (i) => (i === 5 ? -0.2 : 0)))).toBeCloseTo(0.18, 9);
  });

  it('taps a little ahead of sound that comes in time are no delay', () => {
    expect(delayOf(taps(-0.04))).toBe(0);
  });

  it('nothing is said of taps all over the place, or of too few', () => {
    expect(delayOf(taps(0.1, (i) => (i % 4) * 0.12))).toBeNull();
    expect(delayOf(taps(0.1).slice(0, 4))).toBeNull();
  });
});
