import { describe, expect, it } from 'vitest';
import { seamFacts } from '../../../app/_song/seamWords.ts';
import { loudnessOutline, stripGaps, stripSections } from '../../../app/_song/strip.ts';
import { secondsOf } from '../../../app/_song/times.ts';
import { certainty } from '../../../lib/core/song/confirmed.ts';
import { clock, signed } from '../../../lib/core/units.ts';
import { cutOut, planOf } from '../../kit/board.ts';

describe('a confidence in words', () => {
  it('asks below 0.7', () => {
    expect([0.95, 0.8, 0.69, 0].map(certainty)).toEqual([
      'sure',
      'fairly sure',
      'please check',
      'please check',
    ]);
  });
});

describe('the figures of a join', () => {
  const seam = { beatErrorMs: 5, levelStepLu: 0.3, harmony: 0.8, timbre: 2.4 };
  it('are words and numbers', () => {
    expect(seamFacts(seam, 0.5).map(({ word, figure }) => `${word} ${figure}`)).toEqual([
      'on the beat within 5.0 ms',
      'same level +0.3 LU',
      'harmony goes on 0.8 (1 is usual)',
      'sound changes 2.4 (1 is usual)',
    ]);
  });
  // Just noticeable displacement: 6 ms, or 2.5 % of the interval (Friberg & Sundberg 1995).
  it('take the beat for off where somebody would notice', () => {
    const off = (ms: number, interval: number) => seamFacts({ ...seam, beatErrorMs: ms }, interval)[0]!.fine;
    expect([off(5.9, 0.2), off(6.1, 0.2), off(12, 0.5), off(13, 0.5)]).toEqual([true, false, true, false]);
  });
  it('say so when nobody measured', () => {
    expect(seamFacts({ ...seam, beatErrorMs: null }, 0.5)[0]!.word).toBe('beat not measured');
  });
});

describe('a figure with a sign', () => {
  it('has a true minus, and none at nothing', () => {
    expect([-14, 0.26, -0.04, 0].map((x) => signed(x, 1))).toEqual(['−14.0', '+0.3', '0.0', '0.0']);
    expect([-2.06, -0.04].map((x) => clock(x, 1))).toEqual(['−0:02.1', '0:00.0']);
  });
});

describe('a length as people write it', () => {
  it('is minutes and seconds, or seconds', () => {
    expect(['3:05', ' 185 ', '1:12.4', '0:07'].map(secondsOf)).toEqual([185, 185, 72.4, 7]);
  });
  it('is nothing else', () => {
    expect(['', '3:65', 'three', '-5', '16:00', '0', '1:2:3'].map(secondsOf)).toEqual([
      null,
      null,
      null,
      null,
      null,
      null,
      null,
    ]);
  });
});

describe('the whole song as a strip', () => {
  it('is covered by its sections; the same letter has the same pattern', () => {
    const sections = stripSections(planOf());
    expect(sections[0]!.from).toBe(0);
    expect(sections.at(-1)!.to).toBe(1);
    for (let i = 1; i < sections.length; i++) expect(sections[i]!.from).toBe(sections[i - 1]!.to);
    const pattern = (name: string) => sections.find((s) => s.name === name)!.pattern;
    expect(pattern('chorus 1')).toBe(pattern('chorus 3'));
    expect(pattern('chorus 1')).not.toBe(pattern('bridge'));
  });
  it('shows what the edit leaves out', () => {
    const plan = planOf({}, { edit: cutOut(40, 60) });
    const gaps = stripGaps(plan);
    expect(gaps).toHaveLength(1);
    expect(gaps[0]!.seconds).toBeCloseTo(20, 6);
    expect(gaps[0]!.from * plan.recording!.duration).toBeCloseTo(40, 6);
  });
  it('draws the loudest parts highest', () => {
    const loudness = Float32Array.from({ length: 240 }, (_, i) => (i < 120 ? -40 : -10));
    const table = { frame: 0.25, loudness, chroma: new Float32Array(0), timbre: new Float32Array(0) };
    const heights = loudnessOutline(table, 100, 60, 4)
      .split(' ')
      .slice(1, -1)
      .map((p) => Number(p.split(',')[1]));
    expect(heights).toEqual([60, 60, 0, 0]);
  });
});
