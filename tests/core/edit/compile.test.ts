import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compileEdit, fadeStart, floorAtOrBefore } from '../../../lib/core/edit/compile.ts';
import { edit as editSchema, wholeSong } from '../../../lib/core/edit/edit.ts';
import { floorTime, recordTime, wholeMicros } from '../../../lib/core/units.ts';
import { anyEdit, cut, fade, micros } from './edits.ts';

describe('compileEdit', () => {
  it('plays the whole song as it is', () => {
    const compiled = compileEdit(wholeSong, { duration: 200.5 });
    expect(compiled.length).toBe(200.5);
    expect(compiled.toFloor(recordTime(123.456))).toBe(123.456);
  });

  // Worked example 5 (arithmetic): 16 bars of 4 at 72 are 53.333 s; 245.500 s less that is 192.167 s.
  it('leaves 16 bars out', () => {
    const left = wholeMicros((16 * 4 * 60) / 72);
    const compiled = compileEdit({ ...wholeSong, cuts: [cut(100, 100 + left)] }, { duration: 245.5 });
    expect(compiled.length).toBeCloseTo(192.167, 3);
    expect(compiled.toFloor(recordTime(120))).toBeNull();
    expect(compiled.toRecord(floorTime(100))).toBeCloseTo(100 + left, 6);
    expect(compiled.toFloor(recordTime(100))).toBeNull();
  });

  it('is longer when played slower', () => {
    expect(compileEdit({ ...wholeSong, speed: 0.9 }, { duration: 180 }).length).toBeCloseTo(200, 9);
  });

  // Worked example 6: an 8 s fade to silence at 3:00 starts 2:52.
  it('ends where the fade is silent', () => {
    const edit = { ...wholeSong, end: fade(172, 8) };
    const compiled = compileEdit(edit, { duration: 260 });
    expect(compiled.length).toBe(180);
    expect(fadeStart(edit, compiled)).toBe(172);
  });

  it('fades for its whole length of kept music, over a seam as well', () => {
    const compiled = compileEdit(
      { ...wholeSong, cuts: [cut(102, 120)], end: fade(100, 8) },
      { duration: 260 },
    );
    expect(compiled.length).toBe(108);
    expect(compiled.toFloor(recordTime(126))).toBe(108);
  });

  it('keeps nothing of a recording that the cuts cover', () => {
    const compiled = compileEdit({ ...wholeSong, cuts: [cut(0, 300)] }, { duration: 260 });
    expect(compiled.spans).toEqual([]);
    expect(compiled.length).toBe(0);
  });

  it('record to floor and back is the same moment, to the microsecond exactly', () => {
    fc.assert(
      fc.property(anyEdit, fc.array(micros(300), { maxLength: 30 }), (edit, times) => {
        const compiled = compileEdit(edit, { duration: 300 });
        for (const time of times) {
          const floor = compiled.toFloor(recordTime(time));
          if (floor !== null) expect(wholeMicros(compiled.toRecord(floor))).toBe(time);
        }
      }),
    );
  });

  it('floor to record and back is the same moment, and never one that is left out', () => {
    fc.assert(
      fc.property(anyEdit, fc.array(fc.double({ min: 0, max: 1, noNaN: true })), (edit, shares) => {
        const compiled = compileEdit(edit, { duration: 300 });
        for (const share of compiled.length > 0 ? shares : []) {
          const record = compiled.toRecord(floorTime(share * compiled.length));
          // A double's rounding may fall on either side of a seam; there the two sides are one floor time.
          const floor = compiled.toFloor(record) ?? floorAtOrBefore(compiled, record);
          expect(Math.abs(floor - share * compiled.length)).toBeLessThan(1e-9);
        }
      }),
    );
  });

  it('spans are in order, touch on the floor and add up to its length', () => {
    fc.assert(
      fc.property(anyEdit, (edit) => {
        expect(editSchema.safeParse(edit).success).toBe(true);
        const { spans, length, speed } = compileEdit(edit, { duration: 300 });
        let floor = 0;
        for (const [i, span] of spans.entries()) {
          expect(span.to).toBeGreaterThan(span.from);
          if (i > 0) expect(span.from).toBeGreaterThanOrEqual(spans[i - 1]!.to);
          expect(span.floor).toBeCloseTo(floor, 9);
          floor += (span.to - span.from) / speed;
        }
        expect(length).toBeCloseTo(floor, 9);
      }),
    );
  });
});
