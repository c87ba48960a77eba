import type { Move } from './move.ts';
import { turned, usualStride } from './path.ts';
import { BETWEEN, type Foot, otherFoot } from './stance.ts';
import type { DanceStep } from './step.ts';

/** Metres from a partner's middle to each foot, feet together: drawn so, not measured. */
export const HALF_STANCE = 0.08;
/** Metres by which a foot that crosses stands past the other one and behind or before it: drawn so, not measured. */
const CROSSED_PAST = 0.05;
const CROSSED_BY = 0.2;
/** Of an eighth of a turn. */
const DEGREES = 45;

/** A foot on the floor. */
export interface FootPlace {
  foot: Foot;
  /** Metres to the right of where this partner's middle begins and ahead of it, as they face then; the middle of the foot. */
  x: number;
  y: number;
  /** Degrees to the right of how this partner faces at the beginning. */
  facing: number;
}

/** One step of one partner. */
export interface FootMark extends FootPlace {
  /** The count of the figure on which it falls, from 1, in halves. */
  count: number;
  how: DanceStep['how'];
  /** It stands there already, as in "replace": only the weight comes to it. */
  stays: boolean;
  /** Metres that the partner's middle goes with it, as they face when it begins. */
  ahead: number;
  right: number;
  /** Degrees that it turns to the right. */
  turn: number;
}

/** Where one partner's feet go in a figure. */
export interface FootDiagram {
  who: 'lead' | 'follow';
  start: readonly FootPlace[];
  marks: readonly FootMark[];
  /** Degrees of the whole figure to the right, whole turns counted. */
  turn: number;
}

/**
 * Feet of one partner, from a figure's steps; null where it tells no steps.
 *
 * The steps tell the foot, the count, the turn and how far the couple's middle goes. The rest is drawn, not measured: each partner
 * goes as far as that middle and turns on the spot, feet stand `HALF_STANCE` to each side of their own middle, and how far the two
 * stand from each other is not told at all. So each has a diagram of their own, and one is not to be laid over the other.
 * @param stride metres of a step
 */
export function footDiagram(
  move: Pick<Move, 'steps' | 'positionBefore'>,
  who: FootDiagram['who'],
  stride = usualStride,
): FootDiagram | null {
  if (!move.steps) return null;
  // A step's place is told as the lead faces. Where nobody said how they stand, they face each other.
  const apart = who === 'lead' ? 0 : BETWEEN[move.positionBefore ?? 'facing'];
  const marks: FootMark[] = [];
  let [x, y, facing] = [0, 0, 0];
  const start = (['left', 'right'] as const).map((foot) => footAt(foot, 'step', 0, 0, 0));
  const stood = { left: start[0]!, right: start[1]! };
  const own = move.steps.filter((step) => step.who === 'both' || step.who === who);
  for (const { foot, who: whose, how, begins, where, turn: eighths } of own.toSorted(byBegin)) {
    const lead = leadFacing(move.steps, begins) - apart;
    const goes = turned(where.side * stride, where.along * stride, lead);
    const step = turned(goes.x, goes.y, -facing / DEGREES);
    const its = whose === 'both' && who === 'follow' ? otherFoot(foot) : foot;
    [x, y, facing] = [x + goes.x, y + goes.y, facing + eighths * DEGREES];
    const place = footAt(its, how, x, y, facing);
    const stays = place.x === stood[its].x && place.y === stood[its].y;
    stood[its] = place;
    marks.push({
      ...place,
      stays,
      ...{ count: begins + 1, how, ahead: millimetres(step.y), right: millimetres(step.x) },
      turn: eighths * DEGREES,
    });
  }
  return { who, start, marks, turn: facing };
}

/** As a mirror shows it, left and right exchanged: also how a figure goes that is begun with the other foot. */
export function mirroredFeet({ who, start, marks, turn }: FootDiagram): FootDiagram {
  return {
    who,
    start: start.map(mirroredPlace).reverse(),
    marks: marks.map((mark) => ({
      ...mark,
      ...mirroredPlace(mark),
      ...{ right: negative(mark.right), turn: negative(mark.turn) },
    })),
    turn: negative(turn),
  };
}

const mirroredPlace = ({ foot, x, y, facing }: FootPlace): FootPlace => ({
  ...{ foot: otherFoot(foot), x: negative(x), y, facing: negative(facing) },
});

/** Nothing has no sign. */
const negative = (value: number): number => -value || 0;
const millimetres = (metres: number): number => Math.round(metres * 1000) / 1000 || 0;
const byBegin = (a: DanceStep, b: DanceStep): number => a.begins - b.begins;

/** Eighths to the right that the lead has turned when what begins then begins. */
const leadFacing = (steps: readonly DanceStep[], then: number): number =>
  steps.reduce((sum, { who, begins, turn }) => sum + (who !== 'follow' && begins < then ? turn : 0), 0);

/** A foot of whoever has their middle there. */
function footAt(foot: Foot, how: DanceStep['how'], x: number, y: number, facing: number): FootPlace {
  const outwards = foot === 'right' ? 1 : -1;
  const crosses = how === 'cross behind' ? -1 : how === 'cross in front' ? 1 : 0;
  const side = crosses === 0 ? HALF_STANCE : -HALF_STANCE - CROSSED_PAST;
  const off = turned(outwards * side, crosses * CROSSED_BY, facing / DEGREES);
  return { foot, x: millimetres(x + off.x), y: millimetres(y + off.y), facing };
}
