import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boardScore } from '../../../lib/core/areas/score.ts';
import {
  columnsOf,
  countAtTime,
  countUnder,
  MOST_COUNTS,
  rowCapacity,
  rowOf,
  rowsOf,
  segmentsOf,
} from '../../../lib/core/handover/sheetRows.ts';
import { cutOut, planOf } from '../../kit/board.ts';
import { anyEdit } from '../edit/edits.ts';

const score = boardScore(planOf())!;
const rows = rowsOf(score, rowCapacity(score.countsPerBar, false));

describe('rows of a song', () => {
  it('makes every phrase a row, and what rings on after the last bar a row of its own', () => {
    // Nine parts of 8 or 16 bars of three are 14 phrases of 8 bars; four seconds of tail at 90 a minute hold 6 counts.
    expect(rows.filter(({ kind }) => kind === 'phrase').map(({ counts }) => counts)).toEqual(
      Array(14).fill(24),
    );
    expect(rows.at(-1)).toMatchObject({ kind: 'loose', counts: 6, section: 8 });
    expect(rows[3]).toMatchObject({ phrase: 3, section: 2, first: 72, floor: 48, end: 64 });
  });

  it('breaks rows into four bars on a narrow page', () => {
    const narrow = rowsOf(score, rowCapacity(score.countsPerBar, true));
    expect(narrow.slice(0, 28).every(({ counts }) => counts === 12)).toBe(true);
    expect(narrow[0]).toMatchObject({ opens: true, phrase: 0 });
    expect(narrow[1]).toMatchObject({ opens: false, phrase: 0, first: 12 });
  });

  it('never lets a row pass 32 counts, and cuts long phrases at bars into nearly equal rows', () => {
    const long = boardScore(planOf({ beatsPerBar: 4 }, { phraseBars: 16 }))!;
    const cut = rowsOf(long, rowCapacity(4, false)).filter(({ section }) => section === 1);
    expect(cut.map(({ counts }) => counts)).toEqual([32, 32]);
    const odd = boardScore(planOf({ beatsPerBar: 4, form: [['verse', 9]] }, { phraseBars: 9 }))!;
    const nine = rowsOf(odd, rowCapacity(4, false)).filter(({ kind }) => kind === 'phrase');
    expect(nine.map(({ counts }) => counts)).toEqual([20, 16]);
  });

  it('counts thirds of a compound metre in rows of two bars at most', () => {
    expect(rowCapacity(12, false)).toBe(24);
    expect(rowCapacity(12, true)).toBe(24);
    expect(rowCapacity(40, false)).toBe(40);
  });

  it('shows a section without counts as free music', () => {
    const plan = planOf({ lead: 20 });
    const free = boardScore({
      ...plan,
      sections: [{ ...plan.sections[0]!, id: 'spoken', start: 0 as never }, ...plan.sections],
    })!;
    const first = rowsOf(free, 32)[0]!;
    expect(first).toMatchObject({ kind: 'free', counts: 0, floor: 0, end: 20 });
  });

  it('holds every count in exactly one row, in order, whatever the edit', () => {
    fc.assert(
      fc.property(anyEdit, fc.boolean(), (edit, narrow) => {
        const played = boardScore(planOf({ tail: 76 }, { edit }))!;
        const all = rowsOf(played, rowCapacity(played.countsPerBar, narrow));
        const counts = all.flatMap((row) => Array.from({ length: row.counts }, (_, i) => row.first + i));
        expect(counts).toEqual(played.counts.map(({ index }) => index));
        expect(all.every((row) => row.counts <= MOST_COUNTS)).toBe(true);
        expect(new Set(all.map(({ id }) => id)).size).toBe(all.length);
      }),
      { numRuns: 60 },
    );
  });
});

describe('places in rows', () => {
  it('cuts a stretch at the ends of rows', () => {
    const cut = segmentsOf(rows, 21, 75);
    expect(cut.map(({ row, from, to }) => [row, from, to])).toEqual([
      [0, 21, 24],
      [1, 24, 48],
      [2, 48, 72],
      [3, 72, 75],
    ]);
    expect(cut.map(({ begins }) => begins)).toEqual([true, false, false, false]);
    expect(cut.map(({ finishes }) => finishes)).toEqual([false, false, false, true]);
    expect(segmentsOf(rows, 24, 24)).toEqual([]);
  });

  it('lets a line go on a little past the last count of all', () => {
    const last = score.counts.length;
    expect(segmentsOf(rows, last - 2, last + 20, 5).at(-1)).toMatchObject({ to: last + 5, finishes: false });
    expect(segmentsOf(rows, last - 2, last + 20)[0]).toMatchObject({ to: last, finishes: false });
  });

  it('turns floor time into counts, on the grid and beyond it', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 300, noNaN: true }), (at) => {
        // At 90 a minute a count lasts 2/3 s; the grid is stored in whole microseconds.
        expect(countAtTime(score, at)).toBeCloseTo(at * 1.5, 3);
      }),
    );
  });

  it('finds the count under a place of the row, and stays inside the row', () => {
    const row = rows[3]!;
    expect(columnsOf(rows)).toBe(24);
    expect(countUnder(row, 24, 0)).toBe(72);
    expect(countUnder(row, 24, 0.51)).toBe(84);
    expect(countUnder(row, 24, 1.2)).toBe(95);
    expect(countUnder(row, 24, -0.3)).toBe(72);
    expect(rowOf(rows, 95)).toBe(3);
    expect(rowOf(rows, 1000)).toBe(-1);
  });

  it('keeps one scale: a phrase that the edit shortens is a shorter row', () => {
    const cut = boardScore(planOf({}, { edit: cutOut(24, 64) }))!;
    const shorter = rowsOf(cut, 32);
    expect(columnsOf(shorter)).toBe(24);
    expect(shorter.some(({ counts }) => counts === 12)).toBe(true);
  });
});
