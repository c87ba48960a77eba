import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareImprints } from '../../../lib/core/compare/compare.ts';
import { BITS, decodeImprint, encodeImprint, imprintOf } from '../../../lib/core/compare/imprint.ts';
import { likenessAt, ones } from '../../../lib/core/compare/words.ts';
import { durationOf, type Samples } from '../../../lib/core/signal/samples.ts';
import { mumble, whiteNoise } from '../../kit/synth.ts';
import { later, pieces, song, turned, worn } from './songs.ts';

const ours = song(1);
const length = durationOf(ours);
// What is stored and sent is the text; everything is compared with what comes back from it.
const heard = imprintOf(ours);
const recording = decodeImprint(encodeImprint(heard))!;
const compare = (copy: Samples) => compareImprints(recording, imprintOf(copy));

const laidEndToEnd = (a: Samples, b: Samples): Float32Array => {
  const [x, y] = [a.channels[0]!, b.channels[0]!];
  const whole = new Float32Array(x.length + y.length);
  whole.set(x);
  whole.set(y, x.length);
  return whole;
};

describe('imprint', () => {
  it('comes back from its text, which is under 40 KB for five minutes', () => {
    expect(recording.words).toEqual(heard.words);
    expect(recording.duration).toBeCloseTo(length, 6);
    expect((encodeImprint(heard).length / length) * 300).toBeLessThan(40_960);
  });

  it('of fifteen minutes still fits into a plan (120,000 letters)', () => {
    const words = new Uint32Array(15 * 60 * 25);
    expect(encodeImprint({ duration: 900, words }).length).toBeLessThanOrEqual(120_000 + 24);
  });

  it('no text is no imprint', () => {
    for (const text of ['', 'AAAA', 'not base64!', encodeImprint(recording).slice(0, 99)]) {
      expect(decodeImprint(text)).toBeNull();
    }
  });

  it('is the same however loud the copy', () => {
    const quiet = { ...ours, channels: ours.channels.map((x) => x.map((v) => v / 8)) };
    const { words } = imprintOf(quiet);
    expect(likenessAt(words, 0, recording.words, 0, words.length)).toBeGreaterThan(0.99);
  });

  it('counts the bits that are set', () => {
    const slowly = (word: number) => word.toString(2).replaceAll('0', '').length;
    fc.assert(
      fc.property(fc.nat(0xffffffff), (word) => {
        expect(ones(word)).toBe(slowly(word));
      }),
    );
  });

  it('is as alike as a count of each word by itself says, wherever the two are laid', () => {
    const words = fc.uint32Array({ minLength: 40, maxLength: 70, size: 'max' });
    const place = fc.integer({ min: -20, max: 50 });
    fc.assert(
      fc.property(
        words,
        words,
        place,
        place,
        fc.nat(70),
        fc.integer({ min: 1, max: 3 }),
        (a, b, from, there, length, step) => {
          let [inside, differ] = [0, 0];
          const first = Math.max(0, -from, -there);
          for (let i = 0; i < length; i++) {
            const [x, y] = [a[from + i], b[there + i]];
            if (x === undefined || y === undefined) continue;
            inside += 1;
            if ((i - first) % step === 0) differ += step * ones(x ^ y);
          }
          const alike = length === 0 ? 0 : (inside - (2 * differ) / BITS) / length;
          expect(likenessAt(a, from, b, there, length, step)).toBeCloseTo(alike, 12);
        },
      ),
    );
  });
});

describe('the same recording', () => {
  it('as it is', () => {
    const found = compareImprints(recording, heard);
    expect(found).toMatchObject({ verdict: 'same', differences: [] });
    expect(Math.abs(found.offsetMs)).toBeLessThan(1);
    expect(found.ratio).toBe(1);
  });

  it('quieter, duller, with a hiss', () => {
    expect(compare(worn(ours)).verdict).toBe('same');
  });

  it('hissing where the recording has fallen silent', () => {
    const silence = { ...ours, channels: [new Float32Array(4 * ours.rate)] };
    const whole = { ...ours, channels: [laidEndToEnd(ours, silence)] };
    const noise = whiteNoise(Math.ceil(durationOf(whole))).channels[0]!;
    const hissing = { ...whole, channels: whole.channels.map((x) => x.map((v, i) => v + 0.003 * noise[i]!)) };
    const found = compareImprints(imprintOf(whole), imprintOf(hissing));
    expect(found).toMatchObject({ verdict: 'same', differences: [] });
  });

  it.each([0.026, 1.234, 7.81])('later by %d s', (seconds) => {
    const found = compare(later(ours, seconds));
    expect(found.verdict).toBe('shifted');
    expect(Math.abs(found.offsetMs - seconds * 1000)).toBeLessThan(5);
    expect(found.differences).toEqual([]);
  });

  it('earlier, where the silence before it was cut off', () => {
    const found = compareImprints(imprintOf(later(ours, 2)), heard);
    expect(found.verdict).toBe('shifted');
    expect(Math.abs(found.offsetMs + 2000)).toBeLessThan(5);
  });

  it.each([0.94, 1 / 1.0004, 1.004, 1 / 0.98, 1.03])('%d times as long, its pitch with it', (ratio) => {
    const found = compare(later(turned(ours, ratio), 0.5));
    expect(found.verdict).toBe('shifted');
    // The song lasts a minute; over a whole one a line is three times as exact.
    expect(Math.abs(found.ratio / ratio - 1)).toBeLessThan(4e-5);
    expect(Math.abs(found.offsetMs - 500)).toBeLessThan(5);
  });
});

describe('cut differently', () => {
  const near = (value: number, wanted: number) => expect(Math.abs(value - wanted)).toBeLessThan(0.2);

  it('says what is missing, and where', () => {
    const found = compare(
      later(
        pieces(ours, [
          [0, 30],
          [47.3, length],
        ]),
        0.3,
      ),
    );
    expect(found.verdict).toBe('cut differently');
    expect(found.differences).toHaveLength(1);
    const [gap] = found.differences;
    near(gap!.recordFrom, 30);
    near(gap!.recordTo, 47.3);
    near(gap!.copyFrom, 30.3);
    near(gap!.copyTo, 30.3);
  });

  it('says what was added', () => {
    const found = compare(
      pieces(ours, [
        [0, 50],
        [20, length],
      ]),
    );
    expect(found.verdict).toBe('cut differently');
    expect(found.differences).toHaveLength(1);
    const [extra] = found.differences;
    near(extra!.recordFrom, 50);
    near(extra!.recordTo, 50);
    near(extra!.copyFrom, 50);
    near(extra!.copyTo, 80);
  });

  it('says where a copy ends early or begins late', () => {
    const early = compare(pieces(ours, [[0, 48]]));
    expect(early.differences).toHaveLength(1);
    near(early.differences[0]!.recordFrom, 48);
    near(early.differences[0]!.recordTo, length);
    const late = compare(pieces(ours, [[25, length]]));
    expect(late.verdict).toBe('cut differently');
    near(late.differences[0]!.recordFrom, 0);
    near(late.differences[0]!.recordTo, 25);
    expect(Math.abs(late.offsetMs + 25_000)).toBeLessThan(20);
  });
});

describe('in time, but not the same', () => {
  it('says where a copy of the same length plays something else', () => {
    const found = compare(
      pieces(ours, [
        [0, 20],
        [40, 47],
        [27, length],
      ]),
    );
    expect(found.verdict).toBe('cut differently');
    expect(found.differences).toHaveLength(1);
    const [other] = found.differences;
    for (const [value, wanted] of [
      [other!.recordFrom, 20],
      [other!.recordTo, 27],
      [other!.copyFrom, 20],
      [other!.copyTo, 27],
    ] as const) {
      expect(Math.abs(value - wanted)).toBeLessThan(1);
    }
  });
});

describe('another recording', () => {
  it.each<[string, () => Samples]>([
    ['the same chords with another tune', () => song(2)],
    ['at another tempo', () => song(3, 101)],
    ['noise', () => whiteNoise(25)],
    ['something like speech', () => mumble(25)],
    ['silence', () => ({ rate: 22_050, channels: [new Float32Array(25 * 22_050)] })],
    ['nothing', () => ({ rate: 22_050, channels: [new Float32Array(0)] })],
  ])('%s', (_, copy) => {
    const found = compare(copy());
    expect(found.verdict).toBe('another recording');
    expect(found.confidence).toBeGreaterThan(0.4);
  });
});
