import { readFile } from 'node:fs/promises';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { decode } from '../../../lib/codec/decode.ts';
import { type Comparison, compareImprints } from '../../../lib/core/compare/compare.ts';
import type { Stretch } from '../../../lib/core/compare/differences.ts';
import {
  decodeImprint,
  encodeImprint,
  FRAME,
  type Imprint,
  imprintOf,
} from '../../../lib/core/compare/imprint.ts';
import { placesIn } from '../../../lib/core/compare/places.ts';
import { compileEdit } from '../../../lib/core/edit/compile.ts';
import { type Edit, wholeSong } from '../../../lib/core/edit/edit.ts';
import { render } from '../../../lib/core/edit/render.ts';
import { durationOf, type Samples } from '../../../lib/core/signal/samples.ts';
import { recordTime, wholeMicros } from '../../../lib/core/units.ts';
import { fadeAt, micros } from '../../kit/board.ts';
import { plainForm, synth } from '../../kit/synth.ts';
import { later, pieces, turned } from './songs.ts';

const seconds = (most: number) => fc.integer({ min: 0, max: most * 1000 }).map((ms) => ms / 1000);

/** Stretches of a recording of five minutes, in order, at one speed, and the copy that shows them one after the other. */
const found = fc
  .record({
    ratio: fc.double({ min: 0.9, max: 1.1, noNaN: true }),
    ends: fc.uniqueArray(seconds(300), { minLength: 2, maxLength: 8 }),
    pauses: fc.array(seconds(4), { minLength: 4, maxLength: 4 }),
  })
  .map(({ ratio, ends, pauses }) => {
    const sorted = [...ends].sort((a, b) => a - b);
    const stretches: Stretch[] = [];
    let at = 0;
    for (let i = 0; i + 1 < sorted.length; i += 2) {
      const [from, to] = [sorted[i]!, sorted[i + 1]!];
      const copyFrom = at + pauses[i / 2]!;
      at = copyFrom + ratio * (to - from);
      stretches.push({ recordFrom: recordTime(from), recordTo: recordTime(to), copyFrom, copyTo: at });
    }
    return { comparison: comparison({ ratio, stretches, differences: [] }), duration: at };
  });

const comparison = (more: Partial<Comparison>): Comparison => ({
  verdict: 'cut differently',
  offsetMs: 0,
  ratio: 1,
  differences: [],
  stretches: [],
  confidence: 1,
  ...more,
});

describe('where a moment lies in a copy', () => {
  it('inside a stretch it is as far from its ends as in the recording, at the speed; outside of all it has no place', () => {
    fc.assert(
      fc.property(found, seconds(300), ({ comparison, duration }, at) => {
        const there = placesIn(comparison, duration).of(recordTime(at));
        const { ratio, stretches } = comparison;
        const inside = stretches.find(({ recordFrom, recordTo }) => at >= recordFrom && at <= recordTo);
        if (inside) {
          // A speed that is taken for none shifts the ends of five minutes by 18 ms.
          expect(Math.abs(there! - inside.copyFrom - ratio * (at - inside.recordFrom))).toBeLessThan(0.02);
          expect(wholeMicros(there!)).toBe(there);
        } else if (stretches.every((one) => at < one.recordFrom - FRAME || at > one.recordTo + FRAME)) {
          expect(there).toBeNull();
        }
      }),
    );
  });

  it('keeps the order of moments, and what lies outside of the copy has none', () => {
    fc.assert(
      fc.property(found, seconds(300), seconds(300), seconds(300), ({ comparison, duration }, a, b, copy) => {
        const places = placesIn(comparison, Math.min(duration, copy));
        const [first, second] = [a, b].sort((x, y) => x - y).map((at) => places.of(recordTime(at)));
        // Whole microseconds may be half of one beyond the end.
        for (const there of [first!, second!])
          if (there !== null) expect(there >= 0 && there <= Math.min(duration, copy) + 1e-6).toBe(true);
        if (first != null && second != null) expect(second).toBeGreaterThanOrEqual(first - FRAME);
      }),
    );
  });

  it('is nowhere in another recording, and where the comparison is unsure', () => {
    fc.assert(
      fc.property(found, seconds(300), ({ comparison, duration }, at) => {
        for (const doubtful of [
          { ...comparison, verdict: 'another recording' as const },
          { ...comparison, confidence: 0.4 },
        ]) {
          const places = placesIn(doubtful, duration);
          expect([places.of(recordTime(at)), places.whole]).toEqual([null, false]);
        }
      }),
    );
  });

  it('of what is played twice it is the first time', () => {
    const stretches = [
      { recordFrom: recordTime(0), recordTo: recordTime(50), copyFrom: 0, copyTo: 50 },
      { recordFrom: recordTime(20), recordTo: recordTime(65), copyFrom: 50, copyTo: 95 },
    ];
    const places = placesIn(comparison({ stretches }), 95);
    expect([30, 60].map((at) => places.of(recordTime(at)))).toEqual([30, 90]);
  });
});

/** A moment that has a place lands on the same music within this, seconds. */
const EXACT = 0.05;

describe('in real sound', () => {
  let song: Samples;
  let recording: Imprint;
  let length: number;
  beforeAll(async () => {
    const demo = await decode(await readFile('public/demo/tarnlight-stair.mp3'));
    if (!demo.ok) throw new Error(demo.problem.sentence);
    song = demo.value.samples;
    length = durationOf(song);
    recording = decodeImprint(encodeImprint(imprintOf(song)))!;
  }, 60_000);

  /** @param truth where each moment of the recording lies in the copy by how that was made */
  function held(copy: Samples, truth: (at: number) => number | null) {
    const places = placesIn(compareImprints(recording, imprintOf(copy)), durationOf(copy));
    const told = { placed: 0, kept: 0, worst: 0, strays: 0 };
    for (let at = 0; at < length; at += 0.05) {
      const [there, right] = [places.of(recordTime(at)), truth(at)];
      if (right !== null) told.kept += 1;
      if (there === null) continue;
      // An edge is known to a frame or two: what is a hair outside of it lands a hair beside it.
      const near = right ?? truth(at - 2 * FRAME) ?? truth(at + 2 * FRAME);
      if (near === null) told.strays += 1;
      else if (right !== null) {
        told.placed += 1;
        told.worst = Math.max(told.worst, Math.abs(there - right));
      }
    }
    return { places, ...told };
  }
  const played = (edit: Edit): Samples => {
    const sound = render(song, edit);
    if (!sound.ok) throw new Error(sound.problem.sentence);
    return sound.value;
  };
  const floor = (edit: Edit) => {
    const { toFloor } = compileEdit(edit, { duration: length });
    return (at: number) => toFloor(recordTime(at));
  };

  const oneCut: Edit = {
    ...wholeSong,
    cuts: [{ from: micros(112.57), to: micros(192.16), crossfade: micros(0.03) }],
  };
  const twoCuts = fadeAt(230, 8, {
    start: micros(20.3),
    cuts: [
      { from: micros(60.1), to: micros(75.777), crossfade: micros(0.03) },
      { from: micros(140), to: micros(170.5), crossfade: micros(0.2) },
    ],
  });

  it.each<[string, Edit]>([
    ['one part left out', oneCut],
    ['a late start, two parts left out, and a fade', twoCuts],
    ['a fade', fadeAt(150, 10)],
  ])(
    'a rendered edit: %s',
    (_, edit) => {
      const { places, placed, kept, worst, strays } = held(played(edit), floor(edit));
      expect(worst).toBeLessThan(EXACT);
      expect(strays).toBe(0);
      expect(placed / kept).toBeGreaterThan(0.99);
      expect(places.whole).toBe(false);
    },
    30_000,
  );

  it('at 97 % of its speed, all of it', () => {
    const { places, placed, kept, worst } = held(turned(song, 1 / 0.97), (at) => at / 0.97);
    expect(worst).toBeLessThan(EXACT);
    expect(placed).toBe(kept);
    expect(places.whole).toBe(true);
    expect(places.ratio).toBeCloseTo(1 / 0.97, 4);
  }, 30_000);

  it('a rendered edit at 97 % of its speed', () => {
    const truth = floor(twoCuts);
    const slow = (at: number) => {
      const there = truth(at);
      return there === null ? null : there / 0.97;
    };
    const { placed, kept, worst, strays } = held(turned(played(twoCuts), 1 / 0.97), slow);
    expect(worst).toBeLessThan(EXACT);
    expect(strays).toBe(0);
    expect(placed / kept).toBeGreaterThan(0.99);
  }, 30_000);

  it('later by silence, all of it', () => {
    const { places, placed, kept, worst } = held(later(song, 1.37), (at) => at + 1.37);
    expect([placed, places.whole, places.ratio]).toEqual([kept, true, 1]);
    expect(worst).toBeLessThan(EXACT);
  }, 30_000);

  it('with a pause in the middle, on either side of it', () => {
    const [from, to] = [later(pieces(song, [[0, 90]]), 0), later(pieces(song, [[90, length]]), 3)];
    const copy = {
      ...song,
      channels: from.channels.map((x, i) => Float32Array.from([...x, ...to.channels[i]!])),
    };
    const { places, placed, kept, worst, strays } = held(copy, (at) => (at < 90 ? at : at + 3));
    expect(worst).toBeLessThan(EXACT);
    expect([strays, places.whole]).toEqual([0, false]);
    expect(placed / kept).toBeGreaterThan(0.99);
  }, 30_000);

  it('of another song none', () => {
    const other = synth({ bpm: 96, beats: 3, subdivision: 2, sections: plainForm, seed: 8 }).samples;
    const { places } = held(other, () => null);
    expect(places).toMatchObject({ whole: false });
    for (let at = 0; at < length; at += 0.5) expect(places.of(recordTime(at))).toBeNull();
  }, 30_000);
});
