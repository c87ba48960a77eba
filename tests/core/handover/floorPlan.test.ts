import { describe, expect, it } from 'vitest';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { sized } from '../../../lib/core/dance/floor.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { floorPlanOf, placeWhen } from '../../../lib/core/handover/floorPlan.ts';
import { floorTime } from '../../../lib/core/units.ts';
import { barAt, boardOf, endingOn, libraryMove, micros, placed } from '../../kit/board.ts';

const things = [
  { id: 'd', kind: 'door' as const, x: 0, y: 4, across: 0, name: 'the garden door' },
  { id: 'c', kind: 'camera' as const, x: 3, y: 0, across: 0, name: '' },
];
const dance = boardOf(
  {},
  {
    moves: ['waltz-box', 'waltz-underarm', 'lean-three'].map(libraryMove),
    placed: [placed('p', 'waltz-underarm', barAt(24))],
    walkOn: { ...usualWalkOn, from: 'the garden door', firstStep: micros(barAt(8)) },
    ending: endingOn(barAt(108), ['lean-three']),
    beginsAt: { x: 3, y: 4, facing: 2 },
    stride: 0.5,
  },
);
const board = { ...dance, show: { ...dance.show!, floor: { ...sized(null, 6, 8), things } } };
const score = boardScore(board.plan)!;
const plan = floorPlanOf(board, score)!;

describe('a dance on its floor', () => {
  it('is nothing to draw without a floor, and the floor alone without counts', () => {
    expect(floorPlanOf(dance, score)).toBeNull();
    expect(floorPlanOf({ ...board, plan: { ...board.plan, grid: null } }, null)).toBeNull();
  });

  it('has each phrase from the first step to the pose, where the couple then are', () => {
    expect(plan.phrases[0]).toMatchObject({ number: 2, at: barAt(8), place: { x: 3, y: 4, facing: 2 } });
    expect(plan.phrases.at(-1)!.at).toBeLessThan(barAt(108));
    // Whole boxes all through: every phrase of eight bars begins where the dance began.
    for (const { place } of plan.phrases) expect(Math.hypot(place.x - 3, place.y - 4)).toBeLessThan(1e-9);
  });

  it('comes on from the door that the walk-on names, and is shown to the camera from the side', () => {
    expect(plan.walk).toMatchObject({ metres: 3, to: barAt(8) });
    expect(plan.pose!.at).toBeCloseTo(barAt(108));
    expect(plan.pose!.shown[0]).toMatchObject({ hidden: null, facing: { isAway: false } });
    const away = { ...board, plan: { ...board.plan, beginsAt: { x: 3, y: 4, facing: 4 } } };
    expect(floorPlanOf(away, score)!.pose!.shown[0]!.facing).toMatchObject({ who: 'follow', isAway: true });
  });

  it('goes along with the music: at the door, half way, on each count, in the pose', () => {
    const at = (seconds: number) => placeWhen(plan, score, floorTime(seconds));
    const { from, to } = plan.walk!;
    expect(at(0)).toMatchObject({ x: 0, y: 4 });
    expect(at((from + to) / 2).x).toBeCloseTo(1.5);
    expect(at(barAt(8))).toMatchObject({ x: 3, y: 4 });
    // Facing right, the box's first step goes half a metre to the right; it has arrived half a count later.
    const beat = 60 / 90;
    expect(at(barAt(8) + beat / 2).x).toBeCloseTo(3.5);
    expect(at(barAt(8) + beat / 4).x).toBeCloseTo(3.25);
    expect(at(barAt(110))).toEqual(plan.pose!.place);
  });
});
