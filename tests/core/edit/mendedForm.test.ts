import { describe, expect, it } from 'vitest';
import { formOf } from '../../../lib/core/edit/form.ts';
import { mendedForm } from '../../../lib/core/edit/mendedForm.ts';
import { usualSteps } from '../../../lib/core/edit/seam.ts';
import type { FeatureTable } from '../../../lib/core/song/features.ts';
import { NINE, type Part, songOfParts } from './songs.ts';

const TEMPO = 120;
const FRAME = 0.25;

/** Each bar of a letter has a pitch class of its own, the same wherever that letter is. */
function featuresOf(parts: Part[]): FeatureTable {
  const chroma: number[] = [];
  for (const [, bars, like] of parts) {
    for (let bar = 0; bar < bars; bar++) {
      const pitch = (5 * bar + 7 * like.charCodeAt(0) + (bar % 3)) % 12;
      for (let frame = 0; frame < 2 / FRAME; frame++) {
        for (let c = 0; c < 12; c++) chroma.push(c === pitch ? 1 : 0.1);
      }
    }
  }
  const frames = chroma.length / 12;
  return {
    frame: FRAME,
    loudness: new Float32Array(frames).fill(-14),
    chroma: Float32Array.from(chroma),
    timbre: new Float32Array(6 * frames),
  };
}

/** The form of parts as they were heard, of a song that is really `NINE`. */
function mended(heard: Part[], real = NINE) {
  const plan = songOfParts(heard, TEMPO);
  const features = featuresOf(real);
  const usual = usualSteps(features, plan.grid);
  return mendedForm(formOf(plan), plan.grid, features, usual);
}
const starts = (parts: { start: number; like: string }[]) =>
  parts.map(({ start, like }) => `${like} ${start}`);
const whole = starts(formOf(songOfParts(NINE, TEMPO)));

describe('a form mended by the repeats of the song', () => {
  it('is left alone where nothing contradicts it', () => {
    expect(starts(mended(NINE))).toEqual(whole);
  });

  it('finds two sections that were heard as one', () => {
    const heard: Part[] = [...NINE.slice(0, 5), ['pre-chorus', 24, 'C'], ...NINE.slice(7)];
    const parts = mended(heard);
    expect(starts(parts)).toEqual(whole);
    expect(parts[6]).toMatchObject({ name: 'the chorus in pre-chorus 2', kind: 'chorus', ids: ['s5'] });
  });

  it('puts one section together that was heard as two', () => {
    const heard: Part[] = [...NINE.slice(0, 6), ['chorus', 8, 'D'], ['bridge', 8, 'X'], ...NINE.slice(7)];
    const parts = mended(heard);
    expect(starts(parts)).toEqual(whole);
    expect(parts[6]).toMatchObject({ name: 'chorus 2 with bridge 1', ids: ['s6', 's7'] });
  });

  it('does not take other music for a repeat because it is as long', () => {
    const heard: Part[] = [...NINE.slice(0, 5), ['pre-chorus', 24, 'C'], ...NINE.slice(7)];
    const real: Part[] = [...NINE.slice(0, 6), ['bridge', 16, 'Z'], ...NINE.slice(7)];
    expect(mended(heard, real)).toHaveLength(8);
  });
});
