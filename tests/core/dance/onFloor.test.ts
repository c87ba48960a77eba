import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cornered, type Floor, sized, type Thing, withCornerAt } from '../../../lib/core/dance/floor.ts';
import type { Move } from '../../../lib/core/dance/move.ts';
import {
  beginningsFor,
  boundsOf,
  facingAway,
  HALF_COUPLE,
  hiddenBy,
  laidOnFloor,
  wayOn,
} from '../../../lib/core/dance/onFloor.ts';
import { type Place, pathOf } from '../../../lib/core/dance/path.ts';
import { lay } from '../../../lib/core/dance/place.ts';
import { gridOf, libraryMove } from '../../kit/board.ts';

const room = (width: number, depth: number, things: Thing[] = []): Floor => ({
  ...sized(null, width, depth),
  things,
});
const thing = (kind: Thing['kind'], x: number, y: number, more: Partial<Thing> = {}): Thing => ({
  ...{ id: `${kind}${x}/${y}`, kind, x, y, across: kind === 'pillar' ? 0.6 : 0, name: '' },
  ...more,
});
const at = (x: number, y: number, facing = 0): Place => ({ at: 0, x, y, facing, within: 0, aside: 0 });

/** The path of some figures danced one after another. */
function danced(moves: readonly Move[]): Place[] {
  const grid = gridOf();
  let from = 0;
  const laid = moves.map((move, i) => {
    const one = lay(move, from, grid, { id: `p${i}`, part: 'placed' });
    from = one.end;
    return one;
  });
  return pathOf({ grid, basic: null, first: 0, laid }, 0.5);
}
const figures = ['waltz-box', 'waltz-underarm', 'waltz-left-box', 'waltz-progressive', 'waltz-natural-turn'];
const dances = fc
  .array(fc.constantFrom(...figures), { minLength: 1, maxLength: 5 })
  .map((ids) => danced(ids.map(libraryMove)));

const least = (floor: Floor, places: readonly Place[]): number =>
  Math.min(...boundsOf(floor).flatMap(({ spare }) => places.map(spare)));

/** Turned by eighths round the plan's corner, and moved: complex numbers, another way than the code's. */
function turnedAndMoved(x: number, y: number, eighths: number, dx: number, dy: number) {
  const [re, im] = [Math.cos((-eighths * Math.PI) / 4), Math.sin((-eighths * Math.PI) / 4)];
  return { x: x * re - y * im + dx, y: x * im + y * re + dy };
}

describe('a dance on a floor', () => {
  it('comes as near to everything when floor and beginning are turned and moved together, on 150 dances', () => {
    const far = fc.integer({ min: -200, max: 200 });
    fc.assert(
      fc.property(dances, fc.nat(7), fc.nat(7), far, far, (path, facing, eighths, dx, dy) => {
        const floor = room(7, 5, [thing('pillar', 5, 4), thing('guests', 3, 0.2)]);
        const begins = { x: 3, y: 2.5, facing };
        const go = (x: number, y: number) => turnedAndMoved(x, y, eighths, dx / 10, dy / 10);
        const corners = [go(0, 0), go(7, 0), go(7, 5), go(0, 5)];
        const other = {
          ...cornered(floor, corners),
          things: floor.things!.map((one) => ({ ...one, ...go(one.x, one.y) })),
        };
        const there = { ...go(begins.x, begins.y), facing: (facing + eighths) % 8 };
        expect(least(other, laidOnFloor(path, there))).toBeCloseTo(
          least(floor, laidOnFloor(path, begins)),
          9,
        );
      }),
      { seed: 22, numRuns: 150 },
    );
  });

  it('keeps the distances between its places wherever it begins', () => {
    fc.assert(
      fc.property(dances, fc.nat(7), (path, facing) => {
        const places = laidOnFloor(path, { x: 12, y: -3, facing });
        const far = (all: readonly Place[]) =>
          all.map(({ x, y }) => Math.hypot(x - all[0]!.x, y - all[0]!.y));
        const [before, after] = [far(path), far(places)];
        after.forEach((metres, i) => {
          expect(metres).toBeCloseTo(before[i]!, 9);
        });
        expect(places[0]).toMatchObject({ x: 12, y: -3, facing });
      }),
      { seed: 22, numRuns: 60 },
    );
  });

  it('is nowhere surer than its beginning', () => {
    const places = laidOnFloor(danced([libraryMove('waltz-left-box')]), { x: 3, y: 3, facing: 0 });
    for (const { within, aside } of places) {
      expect(within).toBeGreaterThanOrEqual(0.3);
      expect(aside).toBeGreaterThan(0.2);
    }
  });
});

describe('where a dance could begin', () => {
  it('is found wherever it fits in some facing by its outermost places, on 100 dances', () => {
    let fitting = 0;
    fc.assert(
      fc.property(
        dances,
        fc.integer({ min: 25, max: 90 }),
        fc.integer({ min: 25, max: 90 }),
        (path, w, d) => {
          const floor = room(w / 10, d / 10);
          const [begins] = beginningsFor(floor, path, null);
          const spare = least(floor, laidOnFloor(path, begins!));
          // Brute force: of a rectangle, it fits where its outermost places do, in one of eight facings.
          const fits = [0, 1, 2, 3, 4, 5, 6, 7].some((facing) => {
            const places = laidOnFloor(path, { x: 0, y: 0, facing });
            const wide = (of: 'x' | 'y') =>
              Math.max(...places.map((one) => one[of])) - Math.min(...places.map((one) => one[of]));
            // A decimetre for beginnings that are told in decimetres.
            const most = (metres: number) => metres - 2 * HALF_COUPLE - 0.1;
            return wide('x') <= most(floor.width) && wide('y') <= most(floor.depth);
          });
          if (fits) fitting += 1;
          if (fits) expect(spare).toBeGreaterThanOrEqual(-1e-9);
        },
      ),
      { seed: 22, numRuns: 100 },
    );
    expect(fitting).toBeGreaterThan(20);
  });

  it('goes round a pillar in the middle, and shows the pose to the camera', () => {
    const path = danced([libraryMove('waltz-box')]);
    const floor = room(7, 7, [thing('pillar', 3.5, 3.5), thing('camera', 3.5, 0)]);
    const [begins] = beginningsFor(floor, path, { place: path.at(-1)!, position: 'facing' });
    const places = laidOnFloor(path, begins!);
    expect(least(floor, places)).toBeGreaterThanOrEqual(0);
    expect(facingAway(places.at(-1)!, 'facing', { x: 3.5, y: 0 })!.isAway).toBe(false);
  });
});

describe('what a camera sees', () => {
  // Arithmetic: a camera straight ahead of the lead looks at the back of whoever stands face to face with them.
  it.each([
    [0, 'facing', 'follow', 4],
    [4, 'facing', 'lead', 4],
    [2, 'facing', null, 2],
    [0, 'side by side', null, 0],
    [4, 'shadow', null, 4],
    [1, 'promenade', null, 1],
  ] as const)('of a lead turned by %i eighths, %s: (%s) %i eighths from it', (facing, position, who, off) => {
    const found = facingAway(at(2, 1, facing), position, { x: 2, y: 9 })!;
    if (who) expect(found.who).toBe(who);
    expect(found.off).toBeCloseTo(off);
    expect(found.isAway).toBe(off > 3);
  });

  it('nobody knows where nobody said how the two stand', () => {
    expect(facingAway(at(2, 1), null, { x: 2, y: 9 })).toBeNull();
  });

  it('is hidden by a pillar between, not by one beside', () => {
    const floor = room(6, 6, [thing('pillar', 3, 3, { across: 0.5 })]);
    expect(hiddenBy(floor, { x: 3, y: 0 }, { x: 3, y: 5 })?.kind).toBe('pillar');
    expect(hiddenBy(floor, { x: 3, y: 0 }, { x: 5, y: 5 })).toBeNull();
  });
});

describe('the way on', () => {
  const floor = room(8, 6, [
    thing('door', 0, 3, { name: 'the garden door' }),
    thing('door', 8, 3, { name: 'the hall' }),
  ]);
  it('is from the door that is named, else from the nearest, else from none', () => {
    const begins = { x: 3, y: 3 };
    expect(wayOn(floor, begins, 'The hall')).toMatchObject({ metres: 5, door: { name: 'the hall' } });
    expect(wayOn(floor, begins, '')).toMatchObject({ metres: 3 });
    expect(wayOn(floor, begins, 'the stairs')).toBeNull();
  });
});

describe('a floor that is drawn', () => {
  it('stays as it was where its sides would cross', () => {
    const floor = room(6, 6);
    expect(withCornerAt(floor, 0, { x: 7, y: 3 })).toBe(floor);
    expect(withCornerAt(floor, 0, { x: 1, y: 1.04 }).corners![0]).toEqual({ x: 1, y: 1 });
    expect(withCornerAt(floor, 2, { x: 9, y: 6 })).toMatchObject({ width: 9, depth: 6 });
  });

  it('is a rectangle again when it gets another size, with what is on it', () => {
    const drawn = withCornerAt(room(6, 6, [thing('camera', 1, 1)]), 0, { x: 1, y: 1 });
    expect(sized(drawn, 6, 6)).toEqual(drawn);
    const other = sized(drawn, 7, 6);
    expect([other.corners, other.things?.length]).toEqual([undefined, 1]);
  });
});
