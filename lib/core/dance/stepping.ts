import { type Foot, otherFoot } from './stance.ts';
import type { DanceStep } from './step.ts';

/**
 * Steps of a figure from the words in which it is taught: one word a step, told for the lead, in strides of the couple's middle.
 * `side` goes to the side of the foot that steps; `rock forward` and `rock back` go half a stride and `replace` comes back from where
 * the last step went; `through` steps between the two and past the other foot.
 */
const WAYS = {
  forward: ['step', 1, 0],
  back: ['step', -1, 0],
  side: ['step', 0, 1],
  close: ['close', 0, 0],
  place: ['step', 0, 0],
  touch: ['touch', 0, 0],
  behind: ['cross behind', 0, 0],
  front: ['cross in front', 0, 0],
  through: ['step', 0, Number.NaN],
  'small forward': ['step', 0.5, 0],
  'small back': ['step', -0.5, 0],
  'small side': ['step', 0, 0.5],
  'rock forward': ['step', 0.5, 0],
  'rock back': ['step', -0.5, 0],
  replace: ['step', Number.NaN, 0],
} as const satisfies Record<string, readonly [DanceStep['how'], number, number]>;
export type Way = keyof typeof WAYS;

export interface Told {
  /** The lead's first foot. */
  foot: Foot;
  /** Counts that each step lasts. */
  rhythm: readonly number[];
  ways: readonly Way[];
  /** Eighths to the right that each step turns the couple; none where it is left out. */
  turns?: readonly number[];
  /** Where the follow turns otherwise: each step's own eighths. */
  followTurns?: readonly number[];
  /** Where the follow goes otherwise, told as the lead sees it; `side` is to the side of the follow's foot, mirrored as in facing. */
  followWays?: readonly Way[];
}

/** Steps of both, on opposite feet. A touch leaves the same foot free for the step after it. */
export function stepsOf(told: Told): DanceStep[] {
  const { rhythm, ways, turns = [], followTurns, followWays } = told;
  if (rhythm.length !== ways.length || (followWays && followWays.length !== ways.length))
    throw new Error(`${ways.length} steps in ${rhythm.length} counts`);
  const lead = walked(told.foot, rhythm, ways, turns);
  if (!followTurns && !followWays) return lead.map((step) => ({ ...step, who: 'both' }));
  const follow = walked(told.foot, rhythm, followWays ?? ways, followTurns ?? turns);
  return lead.flatMap((step, i) => [
    { ...step, who: 'lead' as const },
    { ...follow[i]!, who: 'follow' as const, foot: otherFoot(follow[i]!.foot) },
  ]);
}

/** Steps of which the two take different ones: each is told with that one's own first foot. */
export function stepsApart(lead: Told, follow: Told): DanceStep[] {
  const mine = walked(lead.foot, lead.rhythm, lead.ways, lead.turns ?? []);
  const theirs = walked(otherFoot(follow.foot), follow.rhythm, follow.ways, follow.turns ?? []);
  return [
    ...mine.map((step) => ({ ...step, who: 'lead' as const })),
    ...theirs.map((step) => ({ ...step, who: 'follow' as const, foot: otherFoot(step.foot) })),
  ].sort((a, b) => a.begins - b.begins);
}

function walked(
  first: Foot,
  rhythm: readonly number[],
  ways: readonly Way[],
  turns: readonly number[],
): Omit<DanceStep, 'who'>[] {
  let at = 0;
  let foot = first;
  let where = { along: 0, side: 0 };
  return ways.map((way, i) => {
    const [how, along, side] = WAYS[way];
    const outwards = foot === 'right' ? 1 : -1;
    if (way === 'replace') where = { along: -where.along || 0, side: -where.side || 0 };
    else if (way === 'through') where = { along: 0, side: -outwards };
    else where = { along, side: side * outwards || 0 };
    const step = { begins: at, lasts: rhythm[i]!, foot, how, where, turn: turns[i] ?? 0 };
    at += rhythm[i]!;
    if (how !== 'touch') foot = otherFoot(foot);
    return step;
  });
}
