import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { basicOf, wholeDance } from '../../../lib/core/dance/basics.ts';
import type { Sequence } from '../../../lib/core/dance/dancedThrough.ts';
import { standardMoves } from '../../../lib/core/dance/library/standard.ts';
import type { Move } from '../../../lib/core/dance/move.ts';
import { leadSteps, pathOf, travelOf, usualStride } from '../../../lib/core/dance/path.ts';
import { lay } from '../../../lib/core/dance/place.ts';
import { planWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { barAt, gridOf, libraryMove, placed, planOf } from '../../kit/board.ts';

const near = (value: number) => Math.abs(value) < 1e-9;
const closes = (move: Move) => {
  const { along, side } = travelOf(leadSteps(move));
  return near(along) && near(side);
};

/** The end of some steps, by complex numbers in place of sines: another way to the same place. */
function byTurning(steps: Move['steps'], stride: number): { x: number; y: number } {
  const h = Math.SQRT1_2;
  const eighths = [
    [1, 0],
    [h, h],
    [0, 1],
    [-h, h],
    [-1, 0],
    [-h, -h],
    [0, -1],
    [h, -h],
  ] as const;
  let [x, y, facing] = [0, 0, 0];
  for (const { where, turn } of steps ?? []) {
    const [cos, sin] = eighths[((facing % 8) + 8) % 8]!;
    x += stride * (where.along * sin + where.side * cos);
    y += stride * (where.along * cos - where.side * sin);
    facing += turn;
  }
  return { x, y };
}

describe('figures that come back to where they began', () => {
  // Arithmetic: a box is a step forward, one to the side, and the same two back.
  it.each([
    ...['waltz-box', 'waltz-small-box', 'waltz-left-box', 'waltz-underarm', 'waltz-balance', 'foxtrot-box'],
    ...[
      'foxtrot-left-box',
      'rumba-box',
      'rumba-left-box',
      'rumba-underarm',
      'rumba-side-breaks',
      'viennese-box',
    ],
    ...[
      'cha-cha-basic',
      'cha-cha-new-york',
      'nightclub-basic',
      'bolero-basic',
      'swing-basic',
      'hustle-basic',
    ],
    ...[
      'west-coast-sugar-push',
      'sway-three',
      'sway-four',
      'walk-circle-three',
      'walk-circle-four',
      'tango-rocks',
    ],
  ])('%s closes up', (id) => expect(closes(libraryMove(id))).toBe(true));

  it('the others travel, and say so', () => {
    const far = (move: Move) => {
      const { along, side } = travelOf(leadSteps(move));
      return Math.hypot(along, side);
    };
    for (const move of standardMoves) if (far(move) >= 2.5) expect(move.travels, move.id).toBe(true);
  });

  it('every figure has the room that it goes through', () => {
    for (const move of standardMoves) {
      const grid = gridOf({ beatsPerBar: move.metre === 3 ? 3 : 4 });
      const laid = [lay(move, 0, grid, { id: 'a', part: 'placed' })];
      const path = pathOf({ grid, basic: null, first: 0, laid });
      const wide = Math.max(...path.map(({ x }) => x)) - Math.min(...path.map(({ x }) => x));
      const deep = Math.max(...path.map(({ y }) => y)) - Math.min(...path.map(({ y }) => y));
      // Half a metre on each side of the middle for the two themselves.
      expect(move.room, move.id).toBeGreaterThanOrEqual(Math.max(wide, deep) + 0.5);
    }
  });
});

describe('the path of a dance', () => {
  const sequence = (moves: string[], placings: [string, number][]): Sequence => {
    const plan = planOf(
      {},
      {
        moves: moves.map(libraryMove),
        placed: placings.map(([move, bar], i) => placed(`p${i}`, move, barAt(bar))),
      },
    );
    const score = boardScore(plan)!;
    const walk = planWalkOn(plan, score);
    const first = walk.ok ? walk.value.firstStep : 0;
    return { grid: plan.grid!, basic: basicOf(plan), first, laid: wholeDance(plan, score) };
  };

  it('has a place for each half count, and is where it began after whole boxes and an underarm turn', () => {
    const path = pathOf(sequence(['waltz-box', 'waltz-underarm'], [['waltz-underarm', 16]]));
    // From bar 8: eight bars of box, two of the turn; 30 counts.
    expect(path.map(({ at }) => at)).toEqual(Array.from({ length: 61 }, (_, i) => i / 2));
    const { x, y, facing } = path.at(-1)!;
    expect([near(x), near(y), facing]).toEqual([true, true, 0]);
    // After the first step a stride ahead, after the second one to the right.
    expect(path[1]).toMatchObject({ at: 0.5, x: 0, y: usualStride });
    expect(path[4]!.x).toBeCloseTo(usualStride);
  });

  it('is less certain the further it goes, most of all after a move that tells no steps', () => {
    const all = sequence(['waltz-box', 'waltz-progressive'], [['waltz-progressive', 16]]);
    const path = pathOf(all);
    path.slice(1).forEach((place, i) => {
      expect(place.within).toBeGreaterThanOrEqual(path[i]!.within);
    });
    const { steps: _, ...untold } = libraryMove('waltz-progressive');
    const blind = pathOf({ ...all, laid: all.laid.map((one) => ({ ...one, move: untold })) });
    expect(blind.at(-1)!.within).toBeGreaterThan(2);
    expect(blind.at(-1)!.within).toBeGreaterThan(path.at(-1)!.within);
  });

  it('ends where the steps end, taken one by one in another way, on 200 random dances', () => {
    const figures = standardMoves.filter((move) => move.metre === 3 && move.landsOn === null);
    fc.assert(
      fc.property(
        fc.array(fc.nat(figures.length - 1), { minLength: 1, maxLength: 8 }),
        fc.integer({ min: 2, max: 9 }),
        (chosen, tenths) => {
          const grid = gridOf();
          let at = 0;
          const laid = chosen.map((n, i) => {
            const one = lay(figures[n]!, at, grid, { id: `p${i}`, part: 'placed' });
            at = one.end;
            return one;
          });
          const stride = tenths / 10;
          const { x, y } = pathOf({ grid, basic: null, first: 0, laid }, stride).at(-1)!;
          const end = byTurning(
            laid.flatMap(({ move }) => [...leadSteps(move)]),
            stride,
          );
          expect(x).toBeCloseTo(end.x, 9);
          expect(y).toBeCloseTo(end.y, 9);
        },
      ),
      { seed: 20270615, numRuns: 200 },
    );
  });
});
