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
import { dice } from '../../kit/synth.ts';

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
    const path = pathOf(all, usualStride);
    path.slice(1).forEach((place, i) => {
      expect(place.within).toBeGreaterThanOrEqual(path[i]!.within);
    });
    const { steps: _, ...untold } = libraryMove('waltz-progressive');
    const blind = pathOf({ ...all, laid: all.laid.map((one) => ({ ...one, move: untold })) }, usualStride);
    expect(blind.at(-1)!.within).toBeGreaterThan(2);
    expect(blind.at(-1)!.within).toBeGreaterThan(path.at(-1)!.within);
    expect([path.at(-1)!.aside, blind.at(-1)!.aside]).toEqual([0, 4]);
  });

  it('is the less certain the further it has gone while nobody has said how long a step is', () => {
    const all = sequence(['waltz-box', 'waltz-progressive'], [['waltz-progressive', 16]]);
    const [told, untold] = [pathOf(all, usualStride), pathOf(all)];
    told.forEach(({ x, y, within }, i) => {
      // A fifth of the way from the first step; independent errors add by their squares.
      expect(untold[i]!.within).toBeCloseTo(Math.hypot(within, Math.hypot(x, y) / 5), 9);
    });
  });

  it('is mirrored by a figure that is begun with the other foot', () => {
    // Arithmetic: half a box goes a stride ahead and one to the right; a change step to the other side goes back to the left.
    const grid = gridOf();
    const laid = [lay(libraryMove('waltz-change'), 3, grid, { id: 'a', part: 'placed' })];
    const end = pathOf({ grid, basic: libraryMove('waltz-box'), first: 0, laid }, 0.5).at(-1)!;
    expect([end.at, near(end.x), end.y]).toEqual([6, true, 1]);
  });

  it('goes on with the half of the basic whose foot is free', () => {
    const grid = gridOf();
    // After a change step the lead's right foot is free: the box goes back and to the left.
    const laid = [lay(libraryMove('waltz-change'), 0, grid, { id: 'a', part: 'placed' })];
    const path = pathOf({ grid, basic: libraryMove('waltz-box'), first: 0, laid }, 0.5, 6);
    const end = path.at(-1)!;
    expect([end.at, near(end.x), near(end.y)]).toEqual([6, true, true]);
  });

  it('stays in step with the counts where moves overlap: the later one cuts the earlier short', () => {
    const grid = gridOf();
    const [box, change] = ['waltz-left-box', 'waltz-change'].map(libraryMove) as [Move, Move];
    const laid = [
      lay(box, 0, grid, { id: 'a', part: 'placed' }),
      lay(change, 3, grid, { id: 'b', part: 'placed' }),
    ];
    const path = pathOf({ grid, basic: null, first: 0, laid }, 0.5);
    expect(path.map(({ at }) => at)).toEqual(Array.from({ length: 13 }, (_, i) => i / 2));
  });

  it('says how sure it is as a simulation does: dances whose steps and turns are off end within the band in about nine of ten', () => {
    const random = dice(22);
    const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    for (const ids of [
      ['waltz-left-box', 'waltz-progressive'],
      ['waltz-natural-turn', 'waltz-box'],
    ]) {
      const grid = gridOf();
      let from = 0;
      const laid = ids.map((id, i) => {
        const one = lay(libraryMove(id), from, grid, { id: `p${i}`, part: 'placed' });
        from = one.end;
        return one;
      });
      const end = pathOf({ grid, basic: null, first: 0, laid }, 0.5).at(-1)!;
      const steps = laid.flatMap(({ move }) => [...leadSteps(move)]);
      const tries = 3000;
      let within = 0;
      let aside = 0;
      for (let n = 0; n < tries; n++) {
        let [x, y, facing] = [0, 0, 0];
        for (const { where, turn } of steps) {
          const size = 0.5 * Math.hypot(where.along, where.side);
          const angle = Math.atan2(where.side, where.along) + (facing * Math.PI) / 4;
          // Twice the standard deviation is 15 % of the step, and of the turn.
          x += size * Math.sin(angle) + 0.075 * size * normal();
          y += size * Math.cos(angle) + 0.075 * size * normal();
          facing += turn * (1 + 0.075 * normal());
        }
        if (Math.hypot(x - end.x, y - end.y) <= end.within) within += 1;
        if (Math.abs(facing - end.facing) <= end.aside) aside += 1;
      }
      // Two standard deviations hold 86 % of a plane and 95 % of a line.
      expect(within / tries).toBeGreaterThan(0.84);
      expect(within / tries).toBeLessThan(0.975);
      expect(aside / tries).toBeGreaterThan(0.93);
      expect(aside / tries).toBeLessThan(0.975);
    }
  });

  it('ends where the steps end, taken one by one in another way, on 200 random dances', () => {
    // Told as they are: what may be begun with either foot may be mirrored.
    const figures = standardMoves.filter(
      (move) => move.metre === 3 && move.landsOn === null && !move.eitherFoot,
    );
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
