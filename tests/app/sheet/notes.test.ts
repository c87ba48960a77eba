import { describe, expect, it } from 'vitest';
import { hangingNotes, notesByRow, shownOf } from '../../../app/_sheet/notes.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import type { Finding, Severity } from '../../../lib/core/checks/finding.ts';
import { rowCapacity, rowsOf } from '../../../lib/core/handover/sheetRows.ts';
import { planOf } from '../../kit/board.ts';

const score = boardScore(planOf())!;
const rows = rowsOf(score, rowCapacity(3, false));
const note = (
  id: string,
  phrase: number | null,
  severity: Severity = 'warns',
  count: number | null = null,
): Finding => ({
  id,
  rule: 'a-rule',
  severity,
  place: {
    recordTime: null,
    floorTime: null,
    section: null,
    phrase,
    count: count as Finding['place']['count'],
  },
  figures: {},
  sentence: 'Something is to be said here.',
  fix: null,
});

describe('notes in the margin', () => {
  it('lie beside the row of their phrase; what has none stands at the top', () => {
    const { beside, top } = notesByRow([note('a', 3), note('b', null)], score, rows);
    expect([...beside]).toEqual([[rows[3]!.id, [expect.objectContaining({ id: 'a' })]]]);
    expect(top.map(({ id }) => id)).toEqual(['b']);
  });

  it('lie beside the part of a long phrase that holds their count', () => {
    const narrow = rowsOf(score, rowCapacity(3, true));
    const { beside } = notesByRow([note('a', 3, 'warns', 90)], score, narrow);
    expect([...beside.keys()]).toEqual(['phrase-84']);
  });

  it('come with the most pressing first, and the ideas behind "more"', () => {
    const all = [note('idea', 3, 'hints'), note('must', 3, 'blocks'), note('look', 3, 'warns')];
    const notes = notesByRow(all, score, rows).beside.get(rows[3]!.id)!;
    expect(notes.map(({ id }) => id)).toEqual(['must', 'look', 'idea']);
    expect(shownOf(notes)).toBe(2);
    expect(shownOf([note('idea', 3, 'hints'), note('other', 3, 'hints')])).toBe(1);
  });

  it('hang down beside the rows until the next with notes, cut where that is too little', () => {
    const height = 64;
    const two = notesByRow([note('a', 3), note('b', 5)], score, rows).beside;
    const hanging = hangingNotes(rows, two, height, [], new Set());
    expect(hanging.get(rows[3]!.id)).toEqual({ down: 0, room: 2 * height, isCut: false });
    const folded = hangingNotes(rows, two, height, [{ after: 4 }], new Set()).get(rows[3]!.id)!;
    expect(folded.room).toBeGreaterThan(2 * height);
    const long = (severity: Severity) => {
      const first = { ...note('a', 3, severity), sentence: 'word '.repeat(40) };
      const tight = notesByRow([first, note('b', 4)], score, rows).beside;
      return hangingNotes(rows, tight, height, [], new Set());
    };
    expect(long('hints').get(rows[3]!.id)).toEqual({ down: 0, room: height, isCut: true });
    expect(long('hints').get(rows[4]!.id)).toMatchObject({ down: 0 });
    // What presses is never cut: those after it begin where it ends.
    const pressing = long('warns').get(rows[3]!.id)!;
    expect(pressing.isCut).toBe(false);
    expect(pressing.room).toBeGreaterThan(height);
    expect(long('warns').get(rows[4]!.id)).toMatchObject({ down: pressing.room - height });
  });

  it('make a row as tall as they are where they would hang out over the end of the sheet', () => {
    const hangs = (i: number) => {
      const last = { ...note('b', 0), sentence: 'word '.repeat(40) };
      const beside = new Map([[rows[i]!.id, [last]]]);
      return hangingNotes(rows, beside, 64, [], new Set()).has(rows[i]!.id);
    };
    expect(hangs(rows.length - 1)).toBe(false);
    expect(hangs(2)).toBe(true);
  });
});
