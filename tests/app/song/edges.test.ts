import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Edge, edgesOf, lineOf, linesOf, withEdgeAt, withEdgeMoved } from '../../../app/_song/edges.ts';
import { withCut } from '../../../app/_song/handEdit.ts';
import { STEPS } from '../../../app/_song/seamMoves.ts';
import { type Edit, edit as editSchema, wholeSong } from '../../../lib/core/edit/edit.ts';
import { BEFORE_THE_BAR } from '../../../lib/core/edit/seam.ts';
import type { Result } from '../../../lib/core/result.ts';
import { barAt, micros, planOf } from '../../kit/board.ts';

const plan = planOf();
const song = { grid: plan.grid!, duration: plan.recording!.duration };
const { duration } = song;
const value = (result: Result<Edit>): Edit => {
  if (!result.ok) throw new Error(result.problem.sentence);
  return result.value;
};
const verse = value(withCut(wholeSong, micros(barAt(48)), micros(barAt(88)), duration));
const [start, end, from]: Edge[] = [{ kind: 'start' }, { kind: 'end' }, { kind: 'from', index: 0 }];

describe('an edge of an edit', () => {
  it('is its beginning, each side of a join, and its end', () => {
    expect(edgesOf(wholeSong)).toEqual([start, end]);
    expect(edgesOf(verse)).toEqual([start, from, { kind: 'to', index: 0 }, end]);
    expect(lineOf(verse, from!, duration)).toBeCloseTo(barAt(48), 5);
    expect(lineOf(verse, end!, duration)).toBe(duration);
  });

  it('is put on a bar line: a join a little before it', () => {
    expect(value(withEdgeAt(verse, from!, micros(barAt(50)), duration)).cuts[0]!.from).toBeCloseTo(
      barAt(50) - BEFORE_THE_BAR,
      5,
    );
    expect(value(withEdgeAt(verse, start!, micros(barAt(4)), duration)).start).toBeCloseTo(barAt(4), 5);
  });

  it('ends with a fade from where it is put, and as the recording does at its end', () => {
    const faded = value(withEdgeAt(verse, end!, micros(barAt(100)), duration));
    expect(faded.end).toMatchObject({ kind: 'fade', from: micros(barAt(100)), length: 8 });
    expect(linesOf(faded, end!, song).at(-1)).toBe(duration);
    expect(linesOf(faded, end!, song).at(-2)! + 8).toBeLessThanOrEqual(duration);
    expect(value(withEdgeAt(faded, end!, micros(duration), duration)).end).toEqual({ kind: 'own' });
  });

  it('keeps the length and shape of a fade that is moved', () => {
    const fade = { kind: 'fade', from: micros(barAt(100)), length: 5, shape: 'soft', byHand: true } as const;
    const moved = value(withEdgeMoved({ ...wholeSong, end: fade }, end!, 'bar', -1, song));
    expect(moved.end).toEqual({ ...fade, from: micros(barAt(99)) });
  });

  it('goes back to the beginning and no further', () => {
    const later = value(withEdgeMoved(wholeSong, start!, 'bar', 1, song));
    expect(later.start).toBeCloseTo(barAt(1), 5);
    expect(value(withEdgeMoved(later, start!, 'bar', -1, song))).toEqual(wholeSong);
    const further = withEdgeMoved(wholeSong, start!, 'bar', -1, song);
    expect(further.ok ? '' : further.problem.sentence).toBe('There is no bar further that way.');
  });

  it('is of an edit that may be stored, whatever is done to it', () => {
    const move = fc.record({
      which: fc.nat(3),
      by: fc.constantFrom(...STEPS),
      way: fc.constantFrom<1 | -1>(1, -1),
      to: fc.option(fc.double({ min: 0, max: 1, noNaN: true })),
    });
    fc.assert(
      fc.property(fc.array(move, { maxLength: 30 }), (moves) => {
        let edit = verse;
        for (const { which, by, way, to } of moves) {
          const edge = edgesOf(edit)[which];
          if (!edge) continue;
          const lines = linesOf(edit, edge, song);
          const next =
            to === null
              ? withEdgeMoved(edit, edge, by, way, song)
              : withEdgeAt(edit, edge, lines[Math.floor(to * (lines.length - 1))]!, duration);
          if (next.ok) edit = next.value;
        }
        expect(editSchema.parse(JSON.parse(JSON.stringify(edit)))).toEqual(edit);
      }),
      { numRuns: 200 },
    );
  });
});
