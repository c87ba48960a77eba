import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withCut } from '../../../app/_song/handEdit.ts';
import {
  linesFor,
  type Side,
  STEPS,
  type Step,
  withJoinAt,
  withSideMoved,
} from '../../../app/_song/seamMoves.ts';
import { compileEdit } from '../../../lib/core/edit/compile.ts';
import { type Edit, edit as editSchema, wholeSong } from '../../../lib/core/edit/edit.ts';
import { BEFORE_THE_BAR } from '../../../lib/core/edit/seam.ts';
import type { Result } from '../../../lib/core/result.ts';
import { recordTime } from '../../../lib/core/units.ts';
import { barAt, planOf } from '../../kit/board.ts';

const plan = planOf();
const song = { grid: plan.grid!, duration: plan.recording!.duration };
const value = (result: Result<Edit>): Edit => {
  if (!result.ok) throw new Error(result.problem.sentence);
  return result.value;
};
const verse = value(withCut(wholeSong, recordTime(barAt(48)), recordTime(barAt(88)), song.duration));
const joined = (bar: number) => barAt(bar) - BEFORE_THE_BAR;
const step = (edit: Edit, side: Side, by: Step, way: 1 | -1) => withSideMoved(edit, 0, side, by, way, song);

describe('a join moved by hand', () => {
  it('goes by a bar, a count or 10 ms, at either side or both', () => {
    expect(value(step(verse, 'from', 'bar', 1)).cuts[0]!.from).toBeCloseTo(joined(49), 5);
    expect(value(step(verse, 'to', 'bar', -1)).cuts[0]!.to).toBeCloseTo(joined(87), 5);
    const both = value(step(verse, 'both', 'bar', 1)).cuts[0]!;
    expect([both.from, both.to]).toEqual([expect.closeTo(joined(49), 5), expect.closeTo(joined(89), 5)]);
    const beat = (barAt(49) - barAt(48)) / song.grid.beatsPerBar;
    expect(value(step(verse, 'from', 'count', -1)).cuts[0]!.from).toBeCloseTo(joined(48) - beat, 5);
    expect(value(step(verse, 'to', '10 ms', 1)).cuts[0]!.to).toBeCloseTo(joined(88) + 0.01, 9);
  });

  it('finds its line again from wherever it was aligned to', () => {
    const aligned = value(withJoinAt(verse, 0, verse.cuts[0]!.from, verse.cuts[0]!.to + 0.04, song.duration));
    expect(value(step(aligned, 'to', 'bar', 1)).cuts[0]!.to).toBeCloseTo(joined(89), 5);
    const between = value(withJoinAt(verse, 0, verse.cuts[0]!.from, barAt(88) + 0.5, song.duration));
    expect(value(step(between, 'to', 'bar', 1)).cuts[0]!.to).toBeCloseTo(joined(89), 5);
    expect(value(step(between, 'to', 'bar', -1)).cuts[0]!.to).toBeCloseTo(joined(88), 5);
  });

  it('no longer says what was measured of it before', () => {
    const measured = { ...verse, cuts: [{ ...verse.cuts[0]!, beatErrorMs: 2 }] };
    expect(value(step(measured, 'from', '10 ms', 1)).cuts[0]!.beatErrorMs).toBeUndefined();
  });

  it('says why where there is no further line, or nothing would be left out', () => {
    const end = linesFor('bar', song.grid, song.duration).at(-1)!;
    const last = value(withJoinAt(verse, 0, verse.cuts[0]!.from, end - BEFORE_THE_BAR, song.duration));
    const further = step(last, 'to', 'bar', 1);
    expect(further.ok ? '' : further.problem.sentence).toBe('There is no bar further that way.');
    const short = value(withJoinAt(verse, 0, joined(48), joined(49), song.duration));
    expect(step(short, 'from', 'bar', 1).ok).toBe(false);
  });

  it('is an edit that may be stored, whatever is done to it, and floor and record stay inverses', () => {
    const move = fc.record({
      side: fc.constantFrom<Side>('from', 'to', 'both'),
      by: fc.constantFrom(...STEPS),
      way: fc.constantFrom<1 | -1>(1, -1),
    });
    fc.assert(
      fc.property(fc.array(move, { maxLength: 40 }), (moves) => {
        let edit = verse;
        for (const { side, by, way } of moves) {
          const next = step(edit, side, by, way);
          if (next.ok) edit = next.value;
        }
        // As JSON and back it is the same edit.
        expect(editSchema.parse(JSON.parse(JSON.stringify(edit)))).toEqual(edit);
        const { toFloor, toRecord, length, spans } = compileEdit(edit, song);
        expect(spans).toHaveLength(2);
        for (const at of [0, length / 3, length / 2]) {
          expect(toFloor(toRecord(at as never))).toBeCloseTo(at, 9);
        }
      }),
      { numRuns: 200 },
    );
  });
});
