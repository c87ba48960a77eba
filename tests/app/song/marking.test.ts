import { describe, expect, it } from 'vitest';
import { countsChanges, withSaid } from '../../../app/_song/correctionSteps.ts';
import {
  type Mark,
  markChanges,
  markedSections,
  markedWords,
  saidBy,
  tallyOf,
} from '../../../app/_song/marking.ts';
import { changePlan } from '../../../lib/core/areas/change.ts';
import { SAID } from '../../../lib/core/song/evidence.ts';
import { recordTime } from '../../../lib/core/units.ts';
import { barAt, boardOf } from '../../kit/board.ts';

const marksOf = (kind: Mark['kind'], ...times: number[]): Mark[] =>
  times.map((at) => ({ kind, at: recordTime(at) }));

describe('marks made by ear', () => {
  it('say beats by runs, ones as bars and as beats among beats, and stops by two presses', () => {
    const said = saidBy(
      [
        ...marksOf('beat', 1.5, 2, 2.5, 3.5, 4, 4.5, 20, 20.5),
        ...marksOf('bar', 1, 3, 40),
        ...marksOf('stop', 50, 55, 60),
      ],
      'Marta',
      70,
    );
    expect(said.map(({ kind, times }) => [kind, ...times])).toEqual([
      ['beats', 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5],
      ['bars', 1, 3, 40],
      ['stop', 50, 55],
      ['stop', 60, 70],
    ]);
    expect(said.every(({ by, byHand }) => by === 'Marta' && byHand)).toBe(true);
  });

  it('are counted, a stop once however it was ended', () => {
    const marks = [...marksOf('stop', 1, 2, 3), ...marksOf('word', 4), ...marksOf('section', 5, 6)];
    expect(tallyOf(marks)).toEqual({ beats: 0, bars: 0, sections: 2, words: 1, stops: 2 });
  });

  it('move a section that begins near, and begin a new one elsewhere; one undo takes all of it back', () => {
    const { plan } = boardOf();
    const grid = plan.grid!;
    const second = [...plan.sections].sort((a, b) => a.start - b.start)[1]!;
    const near = barAt(Math.round((second.start - barAt(0)) / (barAt(1) - barAt(0))) + 1);
    const far = barAt(Math.round((second.start - barAt(0)) / (barAt(1) - barAt(0))) + 4);
    const marks = [...marksOf('section', near + 0.1, far - 0.05), ...marksOf('word', 12.34)];
    const sections = markedSections(plan, grid, marks, 0.02);
    expect(sections.map(({ id }) => id)).toEqual([second.id, null]);
    const cues = markedWords(marks, 0.02).map((at) => ({ at, word: 'lantern' }));
    const next = changePlan(plan, markChanges(plan, sections, cues, 'Marta', ['n1', 'n2', 'n3']));
    expect(next.sections).toHaveLength(plan.sections.length + 1);
    expect(next.sections.find(({ id }) => id === second.id)).toMatchObject({ confirmedBy: 'Marta' });
    expect(next.cues.find(({ word }) => word === 'lantern')?.at).toBeCloseTo(12.32, 6);
  });
});

describe('what was said of the counts', () => {
  const bar = (at: number, by: string) => ({ ...SAID, kind: 'bars' as const, times: [recordTime(at)], by });

  it('by two people at once is kept of both, in whichever order it arrives', () => {
    const { plan } = boardOf();
    const ana = withSaid(plan, [bar(10, 'Ana')], ['a']).changes;
    const ben = withSaid(plan, [bar(40, 'Ben')], ['b']).changes;
    for (const order of [
      [ana, ben],
      [ben, ana],
    ]) {
      const both = order.reduce(changePlan, plan);
      expect(both.corrections.map(({ by }) => by)).toEqual(['Ana', 'Ben']);
      expect(withSaid(both, [bar(80, 'Ana')], ['c']).all).toHaveLength(3);
    }
  });

  it('gives way to what is said of the same bar, and stays beside the rest', () => {
    const { plan } = boardOf();
    const first = changePlan(plan, withSaid(plan, [bar(10, 'Ana'), bar(40, 'Ana')], ['a', 'b']).changes);
    const { all, changes } = withSaid(first, [bar(10.6, 'Ben')], ['c']);
    expect(all.map(({ times }) => times[0])).toEqual([40, 10.6]);
    expect(changePlan(first, changes).corrections.map(({ id }) => id)).toEqual(['b', 'c']);
  });

  it('confirms what it is about, and opens what else it changed', () => {
    const { plan } = boardOf();
    const grid = { ...plan.grid!, confirmedBy: { metre: 'Ana', beats: 'Ana', bars: 'Ana' } };
    const shifted = { ...grid, bars: grid.bars.map((i) => i + 1).filter((i) => i < grid.beats.length) };
    const changes = countsChanges({ ...plan, grid }, shifted, [bar(10, 'Ben')], 'Ben');
    const next = changePlan({ ...plan, grid }, changes).grid!;
    expect(next.confirmedBy).toEqual({ metre: 'Ana', beats: 'Ana', bars: 'Ben' });
    const silent = countsChanges(
      { ...plan, grid },
      shifted,
      [{ ...bar(10, 'Ben'), kind: 'not bars' }],
      'Ben',
    );
    expect(changePlan({ ...plan, grid }, silent).grid!.confirmedBy.bars).toBeNull();
  });
});
