import { describe, expect, it } from 'vitest';
import { tintOf, tintPoints } from '../../../app/_sheet/tint.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { cutOut, planOf } from '../../kit/board.ts';

/** Loudness by a function of record time, in frames of a quarter second. */
const heard = (lufs: (at: number) => number) => ({
  frame: 0.25,
  loudness: Float32Array.from({ length: 912 }, (_, i) => lufs(i / 4)),
  chroma: new Float32Array(),
  timbre: new Float32Array(),
});

describe('the tint of loudness', () => {
  it('goes from the quiet to the loud of the song itself', () => {
    const score = boardScore(planOf())!;
    const tint = tintOf(
      score,
      heard((at) => (at < 100 ? -30 : -10)),
    );
    expect(tint).toHaveLength(2 * score.counts.length);
    expect(tint[0]).toBe(0);
    expect(tint.at(-1)).toBe(1);
  });
  it('draws an even song even, and a quiet one like a loud one', () => {
    const score = boardScore(planOf())!;
    const loud = tintOf(
      score,
      heard((at) => -10 - (at > 100 ? 1 : 0)),
    );
    const quiet = tintOf(
      score,
      heard((at) => -40 - (at > 100 ? 1 : 0)),
    );
    expect(Math.min(...loud)).toBeCloseTo(1 - 1 / 6);
    expect(quiet).toEqual(loud);
  });
  it('follows the music as it is played, over a join', () => {
    const score = boardScore(planOf({}, { edit: cutOut(48 * 2, 88 * 2) }))!;
    const tint = tintOf(
      score,
      heard((at) => (at < 96 ? -10 : at < 176 ? -60 : -20)),
    );
    expect(tint[2 * 143]).toBe(1);
    expect(tint[2 * 144]).toBe(0);
  });
  it('is a line of points for a row, in counts', () => {
    expect(tintPoints([0, 0.5, 1, 1, 0.25, 0.25], 1, 2)).toEqual([
      [0, 1],
      [0.5, 1],
      [1, 0.25],
      [1.5, 0.25],
      [2, 0.25],
    ]);
    expect(tintPoints([], 0, 4)).toEqual([]);
  });
});
