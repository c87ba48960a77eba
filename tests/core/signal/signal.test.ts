import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fromBase64, toBase64 } from '../../../lib/core/signal/base64.ts';
import { kWeighting } from '../../../lib/core/signal/biquad.ts';
import { decimate } from '../../../lib/core/signal/decimate.ts';
import { Spectrum } from '../../../lib/core/signal/fft.ts';
import { mixdown } from '../../../lib/core/signal/samples.ts';
import { cosine, median, quantile } from '../../../lib/core/signal/statistics.ts';
import { hann } from '../../../lib/core/signal/window.ts';
import { dice, sine } from '../../kit/synth.ts';

describe('Spectrum', () => {
  it('agrees with the definition of the discrete Fourier transform', () => {
    for (const size of [8, 16, 32, 64, 128]) {
      const random = dice(size);
      const x = Float32Array.from({ length: size }, () => random() - 0.5);
      const out = new Float32Array(size / 2 + 1);
      new Spectrum(size, new Float32Array(size).fill(1)).powers(x, 0, out);
      for (let k = 0; k <= size / 2; k++) {
        let [re, im] = [0, 0];
        for (let n = 0; n < size; n++) {
          re += x[n]! * Math.cos((2 * Math.PI * k * n) / size);
          im -= x[n]! * Math.sin((2 * Math.PI * k * n) / size);
        }
        expect(out[k]).toBeCloseTo(re * re + im * im, 4);
      }
    }
  });

  it('is never negative, even where all power is in one bin', () => {
    const out = new Float32Array(513);
    for (const x of [sine(1000, 1, 0.2, 8000).channels[0]!, new Float32Array(1024).fill(0.7)]) {
      new Spectrum(1024, hann(1024)).powers(x, 0, out);
      expect(Math.min(...out)).toBeGreaterThanOrEqual(0);
    }
  });

  it('reads silence beyond either end', () => {
    const out = new Float32Array(9);
    new Spectrum(16, hann(16)).powers(new Float32Array(4).fill(1), -100, out);
    expect(Math.max(...out)).toBe(0);
  });

  it('refuses a size that is not a power of two', () => {
    expect(() => new Spectrum(12, hann(12))).toThrow('power of two');
  });
});

describe('decimate', () => {
  it('keeps a tone in the pass band in place and level', () => {
    const { channels } = sine(1000, 0.5, 0.2, 48000);
    const out = decimate(channels[0]!, 2);
    for (let i = 100; i < 200; i++) expect(out[i]).toBeCloseTo(channels[0]![2 * i]!, 2);
  });

  it('takes out what would fold back', () => {
    const out = decimate(sine(20000, 0.5, 0.2, 48000).channels[0]!, 2);
    expect(Math.max(...out.subarray(50, -50))).toBeLessThan(0.005);
  });
});

describe('mixdown', () => {
  it('reads NaN and infinities as silence', () => {
    const mono = mixdown({
      rate: 8000,
      channels: [Float32Array.from([Number.NaN, 1, Number.POSITIVE_INFINITY])],
    });
    expect([...mono]).toEqual([0, 1, 0]);
  });

  it('does not lose a song whose channels are wired against each other', () => {
    const { channels } = sine(440, 0.5, 0.1, 8000);
    const mono = mixdown({ rate: 8000, channels: [channels[0]!, channels[0]!.map((x) => -x)] });
    expect(Math.max(...mono)).toBeGreaterThan(0.45);
  });
});

describe('kWeighting', () => {
  it('equals the coefficients printed in ITU-R BS.1770-4, tables 1 and 2, at 48 kHz', () => {
    const [shelf, pass] = kWeighting(48000);
    const printed = [
      1.53512485958697, -2.69169618940638, 1.19839281085285, -1.69065929318241, 0.73248077421585,
    ];
    [...shelf.b, ...shelf.a].forEach((value, i) => {
      expect(value).toBeCloseTo(printed[i]!, 9);
    });
    [...pass.b, ...pass.a].forEach((value, i) => {
      expect(value).toBeCloseTo([1, -2, 1, -1.99004745483398, 0.99007225036621][i]!, 9);
    });
  });
});

describe('base64', () => {
  it('gives what the platform gives, and back', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 40 }), (bytes) => {
        const text = toBase64(bytes);
        expect(text).toBe(Buffer.from(bytes).toString('base64'));
        expect([...fromBase64(text)]).toEqual([...bytes]);
      }),
    );
  });
});

describe('statistics', () => {
  it('median, quantile and cosine', () => {
    expect(median([3, 1, 2])).toBe(2);
    expect(median([4, 1, 2, 3])).toBe(2.5);
    expect(median([])).toBe(0);
    expect(quantile([0, 10], 0.25)).toBe(2.5);
    expect(cosine([1, 0], [0, 2])).toBe(0);
    expect(cosine([1, 1], [2, 2])).toBeCloseTo(1, 12);
  });
});
