import { describe, expect, it } from 'vitest';
import type { Samples } from '../../../lib/core/signal/samples.ts';
import {
  energiesOf,
  integratedLoudness,
  momentaryLoudness,
  SILENCE,
  truePeak,
} from '../../../lib/core/song/loudness.ts';
import { sine } from '../../kit/synth.ts';

/** A 1 kHz stereo sine in steps of [dBFS, seconds]. */
function steps(rate: number, list: [number, number][]): Samples {
  const parts = list.map(([level, seconds]) => sine(1000, 10 ** (level / 20), seconds, rate).channels[0]!);
  const x = new Float32Array(parts.reduce((sum, part) => sum + part.length, 0));
  parts.reduce((at, part) => {
    x.set(part, at);
    return at + part.length;
  }, 0);
  return { rate, channels: [x, x] };
}

const CASES: { steps: [number, number][]; expect: number }[] = [
  { steps: [[-23, 20]], expect: -23 },
  { steps: [[-33, 20]], expect: -33 },
  {
    steps: [
      [-36, 10],
      [-23, 60],
      [-36, 10],
    ],
    expect: -23,
  },
  {
    steps: [
      [-72, 10],
      [-36, 10],
      [-23, 60],
      [-36, 10],
      [-72, 10],
    ],
    expect: -23,
  },
  {
    steps: [
      [-26, 20],
      [-20, 20.1],
      [-26, 20],
    ],
    expect: -23,
  },
];

describe.each([44100, 48000])(
  'integrated loudness at %i Hz (EBU Tech 3341, minimum requirements, +-0.1 LU)',
  (rate) => {
    it.each(CASES)('$steps reads $expect', (item) => {
      expect(Math.abs(integratedLoudness(steps(rate, item.steps)) - item.expect)).toBeLessThanOrEqual(0.1);
    });

    it('a full-scale 997 Hz sine in one channel reads -3.01 (ITU-R BS.1770-4, annex 1)', () => {
      expect(integratedLoudness(sine(997, 1, 5, rate))).toBeCloseTo(-3.01, 1);
    });
  },
);

describe.each([44100, 48000])('true peak at %i Hz (EBU Tech 3341, +0.2/-0.4 dB)', (rate) => {
  it.each([
    { part: 4, phase: 0, amplitude: 0.5, expect: -6 },
    { part: 4, phase: 45, amplitude: 0.5, expect: -6 },
    { part: 6, phase: 60, amplitude: 0.5, expect: -6 },
    { part: 8, phase: 67.5, amplitude: 0.5, expect: -6 },
    { part: 4, phase: 45, amplitude: 1.41, expect: 3 },
  ])('fs/$part at $phase degrees, amplitude $amplitude reads $expect', (item) => {
    const tone = sine(rate / item.part, item.amplitude, 0.5, rate, (item.phase * Math.PI) / 180);
    // The cases fade in and out, so that the step at an edge is not what is measured.
    const x = tone.channels[0]!.map((v, i, all) => v * Math.min(1, i / 500, (all.length - i) / 500));
    const level = truePeak({ rate, channels: [x] });
    expect(level).toBeGreaterThanOrEqual(item.expect - 0.4);
    expect(level).toBeLessThanOrEqual(item.expect + 0.2);
  });
});

describe('loudness of the unusual', () => {
  it('silence and broken samples read as nothing', () => {
    const silent = { rate: 44100, channels: [new Float32Array(44100)] };
    expect(integratedLoudness(silent)).toBe(SILENCE);
    expect(truePeak(silent)).toBe(SILENCE);
    const broken = { rate: 44100, channels: [new Float32Array(44100).fill(Number.NaN)] };
    expect(integratedLoudness(broken)).toBe(SILENCE);
    expect(truePeak(broken)).toBe(SILENCE);
    expect(integratedLoudness({ rate: 44100, channels: [] })).toBe(SILENCE);
  });

  it('a second channel with the same sound adds 3 LU; halving the amplitude takes off 6', () => {
    const one = sine(1000, 0.2, 3, 44100);
    const loudness = integratedLoudness(one);
    expect(
      integratedLoudness({ rate: 44100, channels: [one.channels[0]!, one.channels[0]!] }) - loudness,
    ).toBeCloseTo(3.01, 2);
    expect(integratedLoudness(sine(1000, 0.1, 3, 44100)) - loudness).toBeCloseTo(-6.02, 2);
  });

  it('momentary loudness follows a step within its 400 ms', () => {
    const frames = momentaryLoudness(
      energiesOf(
        steps(48000, [
          [-40, 2],
          [-20, 2],
        ]),
      ),
      0.25,
    );
    expect(frames).toHaveLength(16);
    expect(frames[5]).toBeCloseTo(-40, 0);
    expect(frames[10]).toBeCloseTo(-20, 0);
  });
});
