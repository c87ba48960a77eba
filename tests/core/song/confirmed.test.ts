import { describe, expect, it } from 'vitest';
import { openOf, openWords, songAspects, standingOf } from '../../../lib/core/song/confirmed.ts';
import { byNobody } from '../../../lib/core/song/grid.ts';
import { planOf } from '../../kit/board.ts';

const plan = planOf();
const sectionsBy = (...by: (string | null)[]) => ({
  ...plan,
  sections: plan.sections.slice(0, by.length).map((one, i) => ({ ...one, confirmedBy: by[i]! })),
});

describe('what is open of a song', () => {
  it('is nothing where people have confirmed all of it, and all where nobody has', () => {
    expect(openOf(plan)).toEqual([]);
    const heard = { ...sectionsBy(null, null), grid: { ...plan.grid!, confirmedBy: byNobody } };
    expect(openOf(heard).map(({ about }) => about)).toEqual(songAspects);
    expect(openWords(openOf(heard))).toBe('metre, beats, bars and sections');
  });

  it('is each aspect by itself', () => {
    for (const about of ['metre', 'beats', 'bars'] as const) {
      const grid = { ...plan.grid!, confirmedBy: { ...plan.grid!.confirmedBy, [about]: null } };
      expect(openWords(openOf({ ...plan, grid }))).toBe(about);
    }
  });

  it('is a number of sections, and all of them while there are none', () => {
    expect(openWords(openOf(sectionsBy('Marta', null, null)))).toBe('2 of 3 sections');
    expect(openWords(openOf(sectionsBy()))).toBe('sections');
  });

  it('is not known without counts', () => {
    expect(standingOf({ ...plan, grid: null })).toEqual([]);
    expect(standingOf({ ...plan, grid: { ...plan.grid!, beats: [], bars: [] } })).toEqual([]);
  });

  it('names everybody whose word it is once, and tells how sure the program was', () => {
    const sections = standingOf(sectionsBy('Marta', 'Noor', 'Marta')).at(-1);
    expect(sections).toMatchObject({ open: false, by: ['Marta', 'Noor'], confidence: 0.8 });
    expect(standingOf({ ...plan, heard: null })[0]).toMatchObject({ about: 'metre', confidence: null });
  });
});
