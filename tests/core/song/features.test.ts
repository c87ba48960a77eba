import { beforeAll, describe, expect, it } from 'vitest';
import {
  chromaOf,
  decodeFeatures,
  FRAME,
  featuresFrom,
  loudnessAt,
  timbreOf,
} from '../../../lib/core/song/features.ts';
import { framesOf } from '../../../lib/core/song/frames.ts';
import { energiesOf } from '../../../lib/core/song/loudness.ts';
import { type Features, features as featuresSchema } from '../../../lib/core/song/recording.ts';
import { recordTime } from '../../../lib/core/units.ts';
import { sine } from '../../kit/synth.ts';

/** Five seconds of A at 220 Hz, then five of C at 523 Hz four times as strong. */
const twoTones = () => {
  const rate = 22050;
  const [a, c] = [sine(220, 0.1, 5, rate).channels[0]!, sine(523.25, 0.4, 5, rate).channels[0]!];
  const x = new Float32Array(a.length + c.length);
  x.set(a);
  x.set(c, a.length);
  return { rate, channels: [x] };
};

describe('features in bytes', () => {
  let features: Features;
  beforeAll(() => {
    const samples = twoTones();
    features = featuresFrom(
      framesOf(samples, () => {}),
      energiesOf(samples),
    );
  });

  it('are valid and a frame each quarter second', () => {
    expect(featuresSchema.safeParse(features).success).toBe(true);
    const table = decodeFeatures(features);
    expect(table.frame).toBe(FRAME);
    expect(table.loudness).toHaveLength(40);
    expect(table.chroma).toHaveLength(480);
    expect(table.timbre).toHaveLength(240);
  });

  it('hold the level within a byte: 12 dB apart', () => {
    expect(loudnessAt(features, recordTime(8)) - loudnessAt(features, recordTime(2))).toBeCloseTo(12, -0.5);
    expect(loudnessAt(features, recordTime(99))).toBe(loudnessAt(features, recordTime(9.99)));
  });

  it('hold the pitch class', () => {
    const of = (from: number, to: number): number => {
      const chroma = chromaOf(features, recordTime(from), recordTime(to));
      return chroma.indexOf(Math.max(...chroma));
    };
    expect(of(1, 4)).toBe(9);
    expect(of(6, 9)).toBe(0);
    expect(chromaOf(features, recordTime(3), recordTime(3))).toEqual(new Array(12).fill(0));
  });

  it('hold the band: 220 Hz in the second, 523 Hz in the third, 0 dB below the whole', () => {
    const early = timbreOf(features, recordTime(1), recordTime(4));
    const late = timbreOf(features, recordTime(6), recordTime(9));
    expect(early.indexOf(Math.max(...early))).toBe(1);
    expect(late.indexOf(Math.max(...late))).toBe(2);
    expect(Math.max(...late)).toBeGreaterThan(-0.5);
  });

  it('fit into a plan for fifteen minutes', () => {
    const frames = 900 / FRAME;
    expect(Math.ceil((12 * frames) / 3) * 4).toBeLessThan(400_000);
  });
});
