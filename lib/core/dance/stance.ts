import type { DanceHold, FreeFoot, Move, Position } from './move.ts';
import type { DanceStep } from './step.ts';

/**
 * How a couple stand between two figures. `feet` is the set of what may be free, one bit for each pair of `PAIRS`: where nobody said
 * which foot is free, all are. `null` is unknown: it connects with anything, so that what is unknown never raises an alarm.
 */
export interface Stance {
  feet: number;
  hold: DanceHold | null;
  position: Position | null;
}

export type Foot = 'left' | 'right';
/** Free feet of lead and follow, in the order of the bits; the first two are the usual ones. */
export const PAIRS: readonly (readonly [lead: Foot, follow: Foot])[] = [
  ['left', 'right'],
  ['right', 'left'],
  ['left', 'left'],
  ['right', 'right'],
];
export const anyFeet = 15;
/** Standing, not yet in hold: either foot can begin, any hold be taken. */
export const standing: Stance = { feet: anyFeet, hold: null, position: null };

export const otherFoot = (foot: Foot): Foot => (foot === 'left' ? 'right' : 'left');

/** Eighths of a turn to the right from the way the lead faces to the way the follow does. */
export const BETWEEN: Record<Position, number> = {
  facing: 4,
  promenade: 6,
  'counter promenade': 2,
  'side by side': 0,
  shadow: 0,
};

/** The set of pairs that fit; the follow's foot is the other one where nobody said, and any where the lead's is unknown too. */
export function feetOf(lead: FreeFoot, follow?: FreeFoot): number {
  const wanted = follow ?? (lead === 'either' ? 'either' : otherFoot(lead));
  const fits = (foot: Foot, said: FreeFoot) => said === 'either' || said === foot;
  return setOf(PAIRS.flatMap(([l, f], pair) => (fits(l, lead) && fits(f, wanted) ? [pair] : [])));
}

export const setOf = (pairs: readonly number[]): number => pairs.reduce((set, pair) => set | (1 << pair), 0);
export const pairsIn = (feet: number): number[] => [0, 1, 2, 3].filter((pair) => feet & (1 << pair));

/** The same pair, left and right exchanged. */
export const mirrored = (pair: number): number => pair ^ 1;
/** A set of pairs, each with left and right exchanged. */
export const mirroredSet = (feet: number): number => setOf(pairsIn(feet).map(mirrored));

/** Which foot of one of the two is free; `either` where that is not known. */
export function freeFoot({ feet }: Pick<Stance, 'feet'>, who: 'lead' | 'follow'): FreeFoot {
  const all = pairsIn(feet).map((pair) => PAIRS[pair]![who === 'lead' ? 0 : 1]);
  return all.length > 0 && all.every((foot) => foot === all[0]) ? all[0]! : 'either';
}

/** Steps of one of the two that take weight, in order, each with that one's own foot. */
export const weighted = (
  steps: readonly DanceStep[],
  who: 'lead' | 'follow',
): { at: number; lasts: number; foot: Foot }[] =>
  steps
    .filter((step) => step.how !== 'touch' && (step.who === 'both' || step.who === who))
    .map(({ begins, lasts, foot, who: whose }) => ({
      at: begins,
      lasts,
      foot: whose === 'both' && who === 'follow' ? otherFoot(foot) : foot,
    }))
    .sort((a, b) => a.at - b.at);

const told = new WeakMap<Move, { begins: Stance; ends: Stance }>();

/** Asked for again and again of the same few figures. */
function stancesOf(move: Move): { begins: Stance; ends: Stance } {
  const before = told.get(move);
  if (before) return before;
  const stances = {
    begins: {
      feet: feetOf(move.footBefore, move.followFootBefore),
      hold: move.holdBefore,
      position: move.positionBefore ?? null,
    },
    ends: {
      feet: feetOf(move.footAfter, move.followFootAfter),
      hold: move.holdAfter,
      position: move.positionAfter ?? null,
    },
  };
  told.set(move, stances);
  return stances;
}

/** What a figure begins in, as it is told. */
export const beginOf = (move: Move): Stance => stancesOf(move).begins;
/** What it ends in. */
export const endOf = (move: Move): Stance => stancesOf(move).ends;
