import { describe, expect, it } from 'vitest';
import { barsView } from '../../../lib/core/song/bars.ts';
import { framesOf } from '../../../lib/core/song/frames.ts';
import { kindsOf } from '../../../lib/core/song/kinds.ts';
import { likesOf } from '../../../lib/core/song/likes.ts';
import { boundaryF, sameMusicF } from '../../../lib/core/song/metrics.ts';
import { repetitionOf } from '../../../lib/core/song/repetition.ts';
import { type HeardSection, sectionsOf } from '../../../lib/core/song/sections.ts';
import { type Synthesised, type SynthSection, type SynthSong, synth } from '../../kit/synth.ts';

const bars = (text: string): string[] => text.split(' ');

/** Sixteen bars that hardly repeat themselves: a period whose second half begins like the first. */
const period = bars('0 7 9m 4m 5 0 2m 7 0 7 9m 4 5 5m 0 0');
const other = bars('5 4m 2m 7 4m 9m 2m 7 5 4m 2m 4 9m 5m 7 0');
const middle = bars('9m 9m 4 4 9m 2 7 7');

const part = (like: string, chords: readonly string[], level: number): SynthSection => ({
  chords,
  bars: chords.length,
  like,
  level,
});

/** Heard with the bars that are true, so that only the sections are judged. */
function heardIn(song: Omit<SynthSong, 'bpm' | 'subdivision'>): {
  truth: Synthesised;
  sections: HeardSection[];
  confidence: number;
} {
  const truth = synth({ bpm: 150, subdivision: 2, ...song });
  const frames = framesOf(truth.samples, () => {});
  return { truth, ...sectionsOf(frames, truth.bars, truth.sections.at(-1)!.end) };
}

describe('sections of songs of other forms', () => {
  it.each([
    ['sixteen bars through-composed, no drums', false, [0.3, 0.45, 0.5, 0.8]],
    ['the same with drums', true, [0.3, 0.6, 0.7, 1]],
  ] as const)('%s', (_, drums, [soft, verse, again, loud]) => {
    const sections = [
      part('A', period.slice(0, 8).toReversed(), soft),
      part('B', period, verse),
      part('C', other, loud),
      part('B', period, again),
      part('C', other, loud),
      part('D', middle, soft),
      part('C', other, loud),
    ];
    const { truth, ...heard } = heardIn({ beats: 3, drums, sections });
    // One cut of six may be wrong.
    expect(boundaryF(truth.sections, heard.sections, 0.5)).toBeGreaterThan(0.85);
    expect(sameMusicF(truth.sections, heard.sections)).toBeGreaterThan(0.85);
    expect(heard.confidence).toBeGreaterThan(0.7);
    const starts = new Set(truth.bars.map((t) => Math.round(t * 1e6)));
    for (const { start } of heard.sections) expect(starts.has(Math.round(start * 1e6))).toBe(true);
  });

  it('strophes of one music have one letter and no chorus', () => {
    const strophe = (level: number) => part('A', other, level);
    const { truth, sections } = heardIn({
      beats: 4,
      drums: true,
      sections: [
        part('I', middle.slice(0, 4), 0.3),
        strophe(0.45),
        strophe(0.6),
        strophe(0.75),
        strophe(0.9),
      ],
    });
    expect(boundaryF(truth.sections, sections, 0.5)).toBeGreaterThan(0.9);
    expect(new Set(sections.slice(1).map((s) => s.like)).size).toBe(1);
    expect(sections.map((s) => s.kind)).not.toContain('chorus');
  });

  it('a last chorus two semitones higher has the letter of the others, and says how far it is raised', () => {
    const verse = period.slice(0, 8);
    const chorus = other.slice(8);
    const higher = chorus.map((chord) => chord.replace(/\d+/, (root) => String((Number(root) + 2) % 12)));
    const order = [part('V', verse, 0.5), part('C', chorus, 0.8)];
    const truth = synth({
      bpm: 150,
      beats: 4,
      subdivision: 2,
      drums: true,
      sections: [...order, ...order, part('D', middle, 0.5), part('C', higher, 0.9)],
    });
    const frames = framesOf(truth.samples, () => {});
    const view = barsView(frames, [...truth.bars, truth.sections.at(-1)!.end]);
    const spans = [0, 8, 16, 24, 32, 40].map((from) => [from, from + 8] as const);
    const { letters, raised } = likesOf(view, repetitionOf(view), spans);
    expect(letters.join('')).toBe('ABABCB');
    expect(raised).toEqual([0, 0, 0, 0, 0, 2]);
  });

  it.each([2, 3, 4])('%i bars are one section', (count) => {
    const chords = period.slice(0, count);
    expect(heardIn({ beats: 4, sections: [part('A', chords, 0.6)] }).sections).toHaveLength(1);
  });

  it('one bar over and over is not cut to pieces', () => {
    const { sections } = heardIn({ beats: 4, sections: [part('A', Array(32).fill('0'), 0.6)] });
    expect(sections.length).toBeLessThanOrEqual(4);
    expect(new Set(sections.map((s) => s.like)).size).toBe(1);
  });
});

describe('names for parts', () => {
  /** Letter, bars and level in dB; `s` for the chords of other music, played otherwise. */
  const parts = (text: string) =>
    text.split(' ').map((word) => {
      const [, like = '', length, level] = /^([A-Z])(\d+)@(-?\d+)s?$/.exec(word)!;
      return { like, bars: Number(length), level: Number(level), strain: word.endsWith('s') };
    });
  it.each([
    [
      'A4@-12 B8@-6 C8@-2 B8@-5 C8@-2 D8@-6 C8@-1 E4@-12',
      'intro verse chorus verse chorus bridge chorus outro',
    ],
    [
      'A4@-12 B8@-6 P4@-5 C8@-2 B8@-5 P4@-5 C8@-2 D8@-6 C8@-1',
      'intro verse pre-chorus chorus verse pre-chorus chorus bridge chorus',
    ],
    ['A4@-12 B16@-6 B16@-5 B16@-4 B16@-3 C4@-12', 'intro verse verse verse verse outro'],
    ['B8@-6 B8@-6 C8@-6 B8@-6 B8@-5 C8@-6 B8@-5', 'verse verse bridge verse verse bridge verse'],
    ['A8@-5 B8@-5 A8@-5 B8@-5 C8@-5 B8@-5', 'verse chorus verse chorus bridge chorus'],
    ['A4@-12 B8@-6 C8@-2 B8@-6 C8@-2 A4@-12', 'intro verse chorus verse chorus outro'],
    ['A8@-6 B8@-3', 'verse verse'],
    ['A4@-12 B8@-6 C8@-2 D4@-6 B8@-5 C8@-2', 'intro verse chorus instrumental verse chorus'],
    ['A4@-12 B8@-6 C8@-2 B8@-5 C8@-2 D8@-6s C8@-1', 'intro verse chorus verse chorus instrumental chorus'],
  ])('%s', (text, kinds) => {
    expect(kindsOf(parts(text)).join(' ')).toBe(kinds);
  });
});
