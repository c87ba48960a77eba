import { describe, expect, it } from 'vitest';
import type { Pair, Part } from '../../../lib/core/edit/form.ts';
import { joinsAtPickUp } from '../../../lib/core/edit/pickUp.ts';
import { risesAt } from '../../../lib/core/edit/softBeat.ts';
import { dice } from '../../kit/synth.ts';

const RATE = 22_050;
const BEAT = 0.6;
const BARS = 4;

/** Notes of a section a beat, semitones above C; sections of one letter have the same ones. */
const tune = (letter: string) => {
  const random = dice(letter.charCodeAt(0));
  return Array.from({ length: BARS * 4 }, () => Math.floor(24 * random()));
};

/** Sections of four bars of four, plucked; three quick notes lead over the bar line into each section whose letter is `led`. */
function songOf(letters: string, led: string) {
  const x = new Float32Array((letters.length * BARS * 4 + 2) * BEAT * RATE);
  const note = (at: number, semitone: number, length: number) => {
    const w = (2 * Math.PI * 220 * 2 ** (semitone / 12)) / RATE;
    const from = Math.round(at * RATE);
    for (let i = 0; i < length * RATE && from + i < x.length; i++) {
      const t = i / RATE;
      x[from + i]! +=
        0.3 * Math.min(1, t / 0.004) * Math.exp(-6 * t) * (Math.sin(w * i) + 0.4 * Math.sin(2 * w * i));
    }
  };
  const section = BARS * 4 * BEAT;
  const parts = [...letters].map((like, k): Part => {
    const start = BEAT + k * section;
    const leads = led.includes(letters[k + 1] ?? '-');
    for (const [i, semitone] of tune(like).entries()) {
      if (i < BARS * 4 - 1 || !leads) note(start + i * BEAT, semitone, BEAT);
    }
    const last = start + section - BEAT;
    if (leads)
      for (const [i, semitone] of [19, 21, 23].entries()) note(last + (i * BEAT) / 3, semitone, BEAT / 3);
    return {
      ids: [`${k}`],
      name: `${like} ${k}`,
      kind: 'verse',
      like,
      start,
      end: start + section,
      phrases: [start],
    };
  });
  return { samples: { rate: RATE, channels: [x] }, parts };
}

function decided(letters: string, led: string, from: number, to: number): boolean {
  const { samples, parts } = songOf(letters, led);
  const place = (part: number) => ({ at: parts[part]!.start, part, phrase: 0 });
  const pair: Pair = { from: place(from), to: place(to), follows: 1 };
  return joinsAtPickUp(pair, parts, (at) =>
    risesAt(samples, { timeAt: (beats) => at + beats * BEAT }, BEAT, 3, 0),
  );
}

describe('a pick-up over the bar line', () => {
  // B is led into, and comes after A, C or D.
  it('is kept with the phrase that comes', () => {
    expect(decided('ABCDB', 'B', 2, 4)).toBe(true);
  });
  it('is not left behind by a phrase that is left out', () => {
    expect(decided('ABDBC', 'B', 3, 4)).toBe(true);
  });
  it('needs no care where both places have the same', () => {
    expect(decided('ABCDB', 'B', 1, 4)).toBe(false);
  });
  it('is not heard where there is none', () => {
    expect(decided('ABCDB', '', 2, 4)).toBe(false);
    expect(decided('ABDBC', '', 3, 4)).toBe(false);
  });
});
