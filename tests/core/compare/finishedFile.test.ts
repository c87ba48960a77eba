import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createMp3Encoder } from 'wasm-media-encoders';
import { decode } from '../../../lib/codec/decode.ts';
import { compareWithEdit, editedImprint, finishedFileAmong } from '../../../lib/core/compare/finishedFile.ts';
import { decodeImprint, encodeImprint, imprintOf } from '../../../lib/core/compare/imprint.ts';
import { type Edit, wholeSong } from '../../../lib/core/edit/edit.ts';
import { render } from '../../../lib/core/edit/render.ts';
import type { Result } from '../../../lib/core/result.ts';
import { durationOf, type Samples } from '../../../lib/core/signal/samples.ts';
import { recordTime, wholeMicros } from '../../../lib/core/units.ts';
import { cut, fade } from '../edit/edits.ts';
import { later, pieces, song } from './songs.ts';

function value<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problem.sentence);
  return result.value;
}

// Bars of 2.5 s; the first at 0.5 s, verse at 5.5, chorus at 20.5, verse at 35.5, chorus at 50.5.
const ours = song(1);
const whole = imprintOf(ours);
const recording = decodeImprint(encodeImprint(whole))!;
const file = (edit: Edit) => value(render(ours, edit));
const without = (...gaps: [number, number][]): Edit => ({
  ...wholeSong,
  cuts: gaps.map(([from, to]) => cut(from, to)),
});

/** Edits by name, each with its finished file; all but the last two play equally long. */
const edits: Record<string, Edit> = {
  'without the second verse': without([35.5, 50.5]),
  'without the first chorus': without([20.5, 35.5]),
  'a bar later': without([38, 53]),
  'half a second later': without([36, 51]),
  'two shorter gaps': without([8, 15.5], [40.5, 48]),
  'fade after the chorus': { ...without([35.5, 50.5]), end: fade(55, 6) },
  'fade a second later': { ...without([35.5, 50.5]), end: fade(56, 6) },
};
const names = Object.keys(edits);
const list = Object.values(edits);
const heard = new Map(names.map((name) => [name, imprintOf(file(edits[name]!))]));

describe('a finished file', () => {
  it.each(names)('%s: is that, and none of the others', (name) => {
    const copy = heard.get(name)!;
    const taken = names.filter((other) => compareWithEdit(recording, copy, edits[other]!).finishedFile);
    expect(taken).toEqual([name]);
  });

  it.each([
    ['without the second verse', 'without the first chorus'],
    ['without the second verse', 'half a second later'],
    ['a bar later', 'two shorter gaps'],
  ])('the present and an older one are told apart in both orders: %s, %s', (one, other) => {
    for (const [now, older] of [
      [one, other],
      [other, one],
    ] as const) {
      const known = [edits[now]!, edits[older]!];
      expect(finishedFileAmong(recording, heard.get(now)!, known)?.index).toBe(0);
      expect(finishedFileAmong(recording, heard.get(older)!, known)?.index).toBe(1);
    }
  });

  it.each([0, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22, 28, 30, 32, 38])(
    'is known wherever between two frames the music goes on: %i ms',
    (between) => {
      const edit = without([35.5, 50.5 + between / 1000]);
      expect(compareWithEdit(recording, imprintOf(file(edit)), edit)).toMatchObject({ finishedFile: true });
    },
  );

  it('of an edit that nobody knows any more is none of those known', () => {
    const copy = heard.get('a bar later')!;
    const known = list.filter((edit) => edit !== edits['a bar later']);
    expect(finishedFileAmong(recording, copy, known)).toBeNull();
    expect(finishedFileAmong(recording, whole, list)).toBeNull();
  });

  it('later by silence is still known, and by how much it is later', () => {
    const now = edits['without the second verse']!;
    const found = compareWithEdit(recording, imprintOf(later(file(now), 0.026)), now);
    expect(found.finishedFile).toBe(true);
    expect(Math.abs(found.offsetMs - 26)).toBeLessThan(8);
  });

  it('with a second of music too much at its beginning or end is not that edit', () => {
    const edit = { ...wholeSong, start: recordTime(10), end: fade(40, 6) };
    const copyOf = (from: number, to: number) => imprintOf(pieces(ours, [[from, to]]));
    expect(compareWithEdit(recording, imprintOf(file(edit)), edit).finishedFile).toBe(true);
    expect(compareWithEdit(recording, copyOf(9, 46), edit).finishedFile).toBe(false);
    expect(compareWithEdit(recording, copyOf(10, 47), edit).finishedFile).toBe(false);
    expect(compareWithEdit(recording, copyOf(10, 45), edit).finishedFile).toBe(false);
  });
});

describe('any two edits of one length', () => {
  // From stored imprints, at a quarter of the exactness that sound at hand gives.
  it('that leave out places a second and more apart are never taken for each other', () => {
    const times = fc.record({
      from: fc.integer({ min: 6_000, max: 30_000 }),
      by: fc.integer({ min: 1_000, max: 20_000 }),
      length: fc.integer({ min: 4_000, max: 12_000 }),
    });
    fc.assert(
      fc.property(times, ({ from, by, length }) => {
        const at = (ms: number) => wholeMicros(ms / 1000);
        const one = without([at(from), at(from + length)]);
        const other = without([at(from + by), at(from + by + length)]);
        const copies = [one, other].map((edit) => editedImprint(recording, edit));
        expect(compareWithEdit(recording, copies[1]!, one).finishedFile).toBe(false);
        expect(compareWithEdit(recording, copies[0]!, other).finishedFile).toBe(false);
        expect(compareWithEdit(recording, copies[0]!, one).finishedFile).toBe(true);
      }),
      { numRuns: 5 },
    );
  });
});

describe('as MP3', () => {
  const full = song(4, 120, 44_100);
  const known = decodeImprint(encodeImprint(imprintOf(full)))!;
  const now = { ...without([18.5, 30.5]), end: fade(38, 5) };
  const older = { ...without([14.5, 26.5]), end: fade(38, 5) };

  async function coded(samples: Samples, bitrate: 96 | 128 | 320): Promise<Samples> {
    const encoder = await createMp3Encoder();
    encoder.configure({ sampleRate: samples.rate, channels: 1, bitrate });
    const music = encoder.encode(samples.channels).slice();
    const end = encoder.finalize().slice();
    const bytes = new Uint8Array(music.length + end.length);
    bytes.set(music);
    bytes.set(end, music.length);
    return value(await decode(bytes)).samples;
  }

  it.each([96, 128, 320] as const)(
    'of %d kbit/s it is known, and the older of the same length told from it',
    async (bitrate) => {
      for (const [i, edit] of [now, older].entries()) {
        const made = value(render(full, edit));
        expect(durationOf(made)).toBeCloseTo(31, 1);
        const copy = imprintOf(await coded(made, bitrate));
        expect(compareWithEdit(known, copy, [now, older][i]!).finishedFile).toBe(true);
        expect(compareWithEdit(known, copy, [older, now][i]!).finishedFile).toBe(false);
      }
    },
  );
});
