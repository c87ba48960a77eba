import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  crosses,
  type Outline,
  roomiest,
  type Spot,
  sideAt,
  toEdge,
} from '../../../lib/core/dance/outline.ts';

const spot = fc.record({ x: fc.integer({ min: -40, max: 60 }), y: fc.integer({ min: -40, max: 60 }) });
/** Floors of any shape whose sides do not cross: corners at all angles round a middle. */
const floors: fc.Arbitrary<Outline> = fc
  .array(fc.integer({ min: 10, max: 100 }), { minLength: 3, maxLength: 9 })
  .map((reach) =>
    reach.map((far, i) => ({
      x: (far / 10) * Math.cos((2 * Math.PI * i) / reach.length),
      y: (far / 10) * Math.sin((2 * Math.PI * i) / reach.length),
    })),
  );

/** Whether a place lies within, by the angles under which its sides are seen: all round, or none of it. */
function isWithin(outline: Outline, { x, y }: Spot): boolean {
  const seen = outline.reduce((sum, corner, i) => {
    const next = outline[(i + 1) % outline.length]!;
    const by = Math.atan2(next.y - y, next.x - x) - Math.atan2(corner.y - y, corner.x - x);
    return sum + Math.atan2(Math.sin(by), Math.cos(by));
  }, 0);
  return Math.abs(seen) > Math.PI;
}

const SAMPLES = 400;
/** The least distance to so many places of each side. */
function sampled(outline: Outline, at: Spot): number {
  let least = Number.POSITIVE_INFINITY;
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length]!;
    for (let k = 0; k <= SAMPLES; k++) {
      const t = k / SAMPLES;
      least = Math.min(least, Math.hypot(at.x - a.x - t * (b.x - a.x), at.y - a.y - t * (b.y - a.y)));
    }
  });
  return least;
}

describe('the edge of a floor', () => {
  it('is as far as the nearest of many places of its sides, below nothing outside, on 400 floors', () => {
    fc.assert(
      fc.property(floors, spot, (outline, tenths) => {
        const at = { x: tenths.x / 5, y: tenths.y / 5 };
        const far = sampled(outline, at);
        const found = toEdge(outline, at);
        // Sides are 20 m at most, so that two samples of one are 5 cm apart.
        expect(Math.abs(found)).toBeLessThanOrEqual(far + 1e-9);
        expect(Math.abs(found)).toBeGreaterThan(far - 0.05);
        if (far > 0.001) expect(found > 0).toBe(isWithin(outline, at));
      }),
      { seed: 22, numRuns: 400 },
    );
  });

  it('of an L is that of the corner that comes in, where that is nearest', () => {
    const l = [
      { x: 0, y: 0 },
      { x: 6, y: 0 },
      { x: 6, y: 3 },
      { x: 3, y: 3 },
      { x: 3, y: 6 },
      { x: 0, y: 6 },
    ];
    expect(toEdge(l, { x: 2, y: 2 })).toBeCloseTo(Math.SQRT2);
    expect(toEdge(l, { x: 4, y: 4 })).toBeCloseTo(-1);
    expect(sideAt(l, { x: 4.4, y: 4 })).toBe(2);
  });

  it('crosses itself in a bow tie, and not in a floor of the property', () => {
    const tie = [
      { x: 0, y: 0 },
      { x: 4, y: 4 },
      { x: 4, y: 0 },
      { x: 0, y: 4 },
    ];
    expect(crosses(tie)).toBe(true);
    fc.assert(
      fc.property(floors, (outline) => {
        expect(crosses(outline)).toBe(false);
      }),
      { seed: 22, numRuns: 200 },
    );
  });
});

describe('the roomiest place', () => {
  it('of a rectangle is its middle, half its shorter side from the edge', () => {
    const at = (x: number, y: number) => ({ x, y });
    expect(roomiest([at(0, 0), at(6, 0), at(6, 8), at(0, 8)])).toEqual({ at: at(3, 4), toEdge: 3 });
  });

  it('has as much room as the best of a raster of 10,000, on 60 floors', () => {
    fc.assert(
      fc.property(floors, (outline) => {
        let best = 0;
        for (let i = -50; i <= 50; i++)
          for (let k = -50; k <= 50; k++) best = Math.max(best, toEdge(outline, { x: i / 5, y: k / 5 }));
        expect(roomiest(outline).toEdge).toBeGreaterThan(best - 0.1);
      }),
      { seed: 22, numRuns: 60 },
    );
  });
});
