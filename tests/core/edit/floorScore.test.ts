import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compileEdit } from '../../../lib/core/edit/compile.ts';
import { type Edit, wholeSong } from '../../../lib/core/edit/edit.ts';
import { floorScore, type SongPlan } from '../../../lib/core/edit/floorScore.ts';
import { nearestCount } from '../../../lib/core/edit/nearestCount.ts';
import { recordTime } from '../../../lib/core/units.ts';
import { anyEdit, cut } from './edits.ts';
import { evenGrid, gridFrom, NINE, sectionsOf, songOfParts } from './songs.ts';

const bare = (grid: SongPlan['grid'], duration: number, more: Partial<SongPlan> = {}): SongPlan => ({
  ...{
    grid,
    sections: [],
    phraseBars: 8,
    duration,
    lastSound: duration,
    ...more,
  },
});
const _names = (song: SongPlan, edit: Edit) => floorScore(song, edit).sections.map((s) => s.name);
const bar = (tempo: number, beats = 4) => (beats * 60) / tempo;

describe('counts', () => {
  // Worked example 1 (arithmetic): 3/4 at 84 beats: 32 bars are 68.571 s.
  it('32 bars of three at 84', () => {
    const score = floorScore(bare(evenGrid(84, 3, 33), 80), wholeSong);
    expect(score.countsPerBar).toBe(3);
    expect(score.counts[96]!.floor).toBeCloseTo(68.571, 3);
    expect(score.interval).toBeCloseTo(60 / 84, 5);
  });

  // Worked example 2: 32 bars of four at 120 are 64.000 s.
  it('32 bars of four at 120', () => {
    expect(floorScore(bare(evenGrid(120, 4, 33), 70), wholeSong).counts[128]!.floor).toBeCloseTo(64, 6);
  });

  // Worked example 3: six counts meet the bar of four again after 12 beats, eight after 24 with the six.
  it('bar positions come round', () => {
    const { counts } = floorScore(bare(evenGrid(120, 4, 12), 24), wholeSong);
    const opens = (step: number) => counts.findIndex((c, i) => i > 0 && i % step === 0 && c.inBar === 0);
    expect(opens(6)).toBe(12);
    expect(counts.findIndex((_, i) => i > 0 && i % 6 === 0 && i % 8 === 0)).toBe(24);
  });

  // Worked example 4: 12/8, dotted quarter = 66: 8 bars are 29.091 s; danced in threes a bar has 12 counts.
  it('compound metre, counted in thirds or in beats', () => {
    const thirds = evenGrid(66, 4, 9, {
      subdivision: 3,
      countLevel: 'subdivision',
    });
    const score = floorScore(bare(thirds, 40), wholeSong);
    expect(score.countsPerBar).toBe(12);
    expect(score.counts[96]!.floor).toBeCloseTo(29.091, 3);
    expect(score.counts[97]!.inBar).toBe(1);
    expect(floorScore(bare(evenGrid(66, 4, 9, { subdivision: 3 }), 40), wholeSong).countsPerBar).toBe(4);
  });

  // Worked example 9: bar 81 beat 1 in three at 84 is at 2:51.429, the next beat at 2:52.143.
  it('bar 81', () => {
    const { counts } = floorScore(bare(evenGrid(84, 3, 90), 200), wholeSong);
    expect(counts[240]!.floor).toBeCloseTo(171.429, 3);
    expect(counts[241]!.floor).toBeCloseTo(172.143, 3);
  });

  it('every second beat, each bar anew, and never in three', () => {
    const grid = evenGrid(120, 4, 4, { countLevel: 'half' });
    // The second bar is a beat short, as in a song that drops one.
    const short = {
      ...grid,
      beats: grid.beats.filter((_, i) => i !== 7),
      bars: [0, 4, 7, 11],
    };
    const { counts } = floorScore(bare(short, 8), wholeSong);
    expect(counts.filter((c) => !c.assumed).map((c) => [c.record, c.inBar])).toEqual([
      ...[0, 1, 2, 3].map((t) => [t, t % 2]),
      ...[4, 5, 6, 7].map((t) => [t, t % 2]),
    ]);
    expect(floorScore(bare(evenGrid(84, 3, 4, { countLevel: 'half' }), 9), wholeSong).countsPerBar).toBe(3);
  });

  it('beats before the first bar are pick-ups of no phrase', () => {
    const grid = {
      ...gridFrom(120, 4, 8, 1),
      bars: [2, 6, 10, 14, 18, 22, 26],
    };
    const song = bare(grid, 20, {
      sections: sectionsOf(grid, [['verse', 7, 'A']]),
    });
    const { counts, phrases } = floorScore(song, wholeSong);
    expect(counts.slice(0, 3).map((c) => [c.pickUp, c.phrase, c.inBar])).toEqual([
      [true, -1, 2],
      [true, -1, 3],
      [false, 0, 0],
    ]);
    expect(phrases[0]!.first).toBe(2);
  });

  it('go on past the last beat at the mean of the last eight intervals, marked', () => {
    const grid = evenGrid(100, 4, 4);
    const { counts } = floorScore(bare(grid, 13), wholeSong);
    const assumed = counts.filter((c) => c.assumed);
    expect(assumed[0]!.record).toBeCloseTo(9.6, 5);
    expect(assumed.at(-1)!.record).toBeLessThan(13);
    expect(assumed.map((c) => c.inBar).slice(0, 5)).toEqual([0, 1, 2, 3, 0]);
  });

  it('there are none in a gap of the grid', () => {
    const grid = evenGrid(120, 4, 20, {
      subdivision: 3,
      countLevel: 'subdivision',
    });
    const gap = {
      ...grid,
      beats: grid.beats.map((t, i) => (i < 40 ? t : recordTime(t + 10))),
    };
    const { counts } = floorScore(bare(gap, 50), wholeSong);
    expect(counts.filter((c) => c.record > 20 && c.record < 29.9)).toEqual([]);
  });
});

describe('phrases and sections', () => {
  it('are cut from each start of a section; up to half a phrase joins the last, more stands alone', () => {
    const song = songOfParts(
      [
        ['intro', 4, 'A'],
        ['verse', 20, 'B'],
        ['chorus', 14, 'C'],
      ],
      120,
    );
    const { phrases, sections } = floorScore(song, wholeSong);
    expect(phrases.map((p) => p.counts)).toEqual([16, 32, 48, 32, 24]);
    expect(phrases.map((p) => p.odd)).toEqual([true, false, true, false, true]);
    expect(phrases.map((p) => p.section)).toEqual([0, 1, 1, 2, 2]);
    expect(sections.map((s) => [s.name, s.counts, s.partial])).toEqual([
      ['intro', 16, false],
      ['verse', 80, false],
      ['chorus', 56, false],
    ]);
    expect(sections[1]!.floor).toBeCloseTo(8, 6);
    expect(sections[1]!.end).toBeCloseTo(48, 6);
  });

  it('a section may have its own phrase length and name', () => {
    const song = songOfParts(
      [
        ['verse', 12, 'A'],
        ['verse', 8, 'A'],
      ],
      120,
    );
    song.sections[0]!.phraseBars = 4;
    song.sections[1]!.name = 'the quiet one';
    const { phrases, sections } = floorScore(song, wholeSong);
    expect(phrases.map((p) => p.counts)).toEqual([16, 16, 16, 32]);
    expect(sections.map((s) => s.name)).toEqual(['verse 1', 'the quiet one']);
  });

  it('a spoken intro is a section without counts', () => {
    const grid = gridFrom(120, 4, 8, 10);
    const sections = [
      {
        id: 'a',
        start: recordTime(0),
        kind: 'intro',
        like: '',
        name: '',
        phraseBars: null,
        confirmedBy: null,
      } as const,
      ...sectionsOf(grid, [['verse', 8, 'B']]),
    ];
    const score = floorScore(bare(grid, 28, { sections }), wholeSong);
    expect(score.sections.map((s) => [s.name, s.counts, s.first, s.floor])).toEqual([
      ['intro', 0, 0, 0],
      ['verse', 32, 0, 10],
    ]);
  });

  it('a fade to the end of a section ends with it', () => {
    const song = songOfParts(NINE, 112);
    const end = song.sections[7]!.start;
    const fade = {
      kind: 'fade',
      from: recordTime(end - 8),
      length: 8,
      shape: 'linear',
      byHand: false,
    } as const;
    const score = floorScore(song, { ...wholeSong, end: fade });
    expect(score.sections.at(-1)!.name).toBe('chorus 2');
    expect(score.sections.at(-1)!.partial).toBe(false);
    expect(score.fade).toEqual({ from: end - 8, to: end });
    expect(score.musicLength).toBe(end);
  });

  it('the own end has a file length and a length of music', () => {
    const score = floorScore(songOfParts(NINE, 112, 4, 6), wholeSong);
    expect(score.length - score.musicLength).toBeCloseTo(3, 6);
  });
});

describe('seams', () => {
  const song = songOfParts(NINE, 112);
  const [, , , chorus1, , , , , chorus3] = song.sections.map((s) => s.start);
  const whole = (16 * 4 * 60) / 112;

  it.each([
    ['on the bar line', 0],
    ['a beat before it', 60 / 112],
    ['a few milliseconds before it', 0.004],
  ])('a seam %s is clean and leaves whole sections out', (_, early) => {
    const edit = {
      ...wholeSong,
      cuts: [cut(chorus1! - early, chorus3! - early)],
    };
    const score = floorScore(song, edit);
    expect(score.seams).toHaveLength(1);
    expect(score.seams[0]).toMatchObject({ clean: true, countsOff: 0 });
    expect(score.sections.map((s) => s.name)).toEqual(['intro', 'verse 1', 'pre-chorus 1', 'chorus 3']);
    expect(score.sections.every((s) => !s.partial)).toBe(true);
    expect(score.counts.map((c) => c.inBar).slice(0, 200)).toEqual(
      Array.from({ length: 200 }, (_, i) => i % 4),
    );
  });

  it('a count lost by a hair on both sides is not lost', () => {
    const score = floorScore(song, {
      ...wholeSong,
      cuts: [cut(chorus1! - 0.003, chorus3! + 0.004)],
    });
    expect(score.seams[0]!.clean).toBe(true);
    expect(score.counts[128]!.record).toBe(chorus3);
  });

  it('two counts closer than half an interval merge into the one after the seam', () => {
    const score = floorScore(song, {
      ...wholeSong,
      cuts: [cut(chorus1! + 0.05, chorus3!)],
    });
    expect(score.counts[128]!.record).toBe(chorus3);
    expect(score.seams[0]).toMatchObject({ clean: true });
    expect(score.seams[0]!.off).toBeCloseTo(0.05, 5);
  });

  it('60 ms is clean, 61 is not', () => {
    const off = (by: number) =>
      floorScore(song, { ...wholeSong, cuts: [cut(chorus1! + by, chorus3!)] }).seams[0]!.clean;
    expect([off(0.06), off(0.061)]).toEqual([true, false]);
  });

  it.each([
    [1, -1],
    [-1, 1],
  ])('%i beats further on: the bar has %i counts too many', (beats, countsOff) => {
    const to = chorus3! + (beats * 60) / 112;
    const score = floorScore(song, {
      ...wholeSong,
      cuts: [cut(chorus1!, to)],
    });
    expect(score.seams[0]).toMatchObject({ clean: false, countsOff });
  });

  // Worked example 5: a tempo read 1 % fast misplaces a seam of 16 bars at 72 by 528 ms; 20.8 ms would be heard.
  it('a length taken from a tempo 1 % fast makes a bad seam', () => {
    const grid = evenGrid(72, 4, 72);
    const slow = bare(grid, 245.5);
    const from = 20 * bar(72);
    const misread = 16 * bar(72 * 1.01);
    const { clean, off } = floorScore(slow, {
      ...wholeSong,
      cuts: [cut(from, from + misread)],
    }).seams[0]!;
    expect(clean).toBe(false);
    expect(Math.min(Math.abs(off), Math.abs(60 / 72 - Math.abs(off)))).toBeGreaterThan(0.0208);
    const right = floorScore(slow, {
      ...wholeSong,
      cuts: [cut(from, from + 16 * bar(72))],
    }).seams[0]!;
    expect(right.clean).toBe(true);
    expect(16 * bar(72) - misread).toBeCloseTo(0.528, 3);
  });

  it('positions in what was left out are gone, those beside it stay', () => {
    const score = floorScore(song, {
      ...wholeSong,
      cuts: [cut(chorus1!, chorus1! + whole)],
    });
    expect(nearestCount(score, recordTime(chorus1! + 5))).toBeNull();
    expect(nearestCount(score, recordTime(chorus1! - 60 / 112))!.record).toBeCloseTo(chorus1! - 60 / 112, 5);
    expect(nearestCount(score, recordTime(chorus1! + whole))!.index).toBe(128);
  });
});

describe('nearestCount', () => {
  const score = floorScore(bare(evenGrid(120, 4, 4), 8), wholeSong);
  it.each([
    [1, 2],
    [1.2, 2],
    [1.25, 2],
    [1.26, 3],
    [-0.2, 0],
  ])('%d s is count %d', (at, index) => {
    expect(nearestCount(score, recordTime(at))!.index).toBe(index);
  });
  it('is none beyond half an interval', () => {
    expect(nearestCount(score, recordTime(-0.26))).toBeNull();
  });
  it('is none on an empty score', () => {
    expect(
      nearestCount(floorScore(bare({ ...evenGrid(120, 4, 0) }, 8), wholeSong), recordTime(1)),
    ).toBeNull();
  });
});

describe('whatever the edit', () => {
  const song = songOfParts(NINE, 100);
  it('counts ascend, are kept ones, and phrases and sections hold all that have one', () => {
    fc.assert(
      fc.property(anyEdit, (edit) => {
        const score = floorScore(song, edit);
        const compiled = compileEdit(edit, song);
        for (const [i, c] of score.counts.entries()) {
          expect(c.index).toBe(i);
          if (i > 0) expect(c.floor).toBeGreaterThan(score.counts[i - 1]!.floor);
          if (i > 0) expect(c.record).toBeGreaterThan(score.counts[i - 1]!.record);
          const back = compiled.toRecord(c.floor);
          if (compiled.toFloor(c.record) !== null) expect(Math.abs(back - c.record)).toBeLessThan(1e-6);
          else
            expect(compiled.spans.some((s) => s.from - c.record > 0 && s.from - c.record <= 0.06)).toBe(true);
          expect(nearestCount(score, c.record)!.index).toBe(i);
        }
        for (const phrase of score.phrases) {
          const own = score.counts.filter((c) => c.phrase === phrase.index);
          expect(own.map((c) => c.inPhrase)).toEqual(own.map((_, i) => i));
          expect(own).toHaveLength(phrase.counts);
          expect(own[0]!.index).toBe(phrase.first);
          expect(score.sections[phrase.section]).toBeDefined();
        }
        const inSections = score.sections.reduce((sum, s) => sum + s.counts, 0);
        expect(inSections).toBe(score.counts.filter((c) => c.phrase >= 0).length);
        expect(score.musicLength).toBeLessThanOrEqual(score.length);
      }),
      { numRuns: 60 },
    );
  });
});
