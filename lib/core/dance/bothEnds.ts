import type { FloorScore } from '../edit/score.ts';
import { clock } from '../units.ts';
import { suitsMetre } from './counts.ts';
import { solveEnding, usualEnding } from './ending.ts';
import { poses } from './library/poses.ts';
import type { Ending, Move } from './move.ts';
import type { DanceChange, DancePlan } from './plan.ts';
import { planWalkOn, setFirstStep } from './walkOn.ts';

/** What a dance needs besides its moves, where nobody chose it yet. */
export interface BothEnds {
  /** A first step and an ending that lands; none of what a person has set. */
  changes: DanceChange[];
  /** The plan with them. */
  plan: DancePlan;
  /** A sentence each. */
  words: string[];
}

/**
 * The first step and the ending of a plan that lacks them. The pose is the couple's own that asks least of them, else the one of the
 * library that does; what needs a caution comes last (common practice, no source).
 * @param target on what the pose lands where there is no ending yet; null where no such count is known
 */
export function bothEnds(plan: DancePlan, score: FloorScore, target: Ending['target'] | null): BothEnds {
  const begins = beginning(plan, score);
  const closes = closing(begins.plan, score, target);
  return {
    changes: [...begins.changes, ...closes.changes],
    plan: closes.plan,
    words: [...begins.words, ...closes.words],
  };
}

const asItIs = (plan: DancePlan): BothEnds => ({ changes: [], plan, words: [] });

function beginning(plan: DancePlan, score: FloorScore): BothEnds {
  const walk = planWalkOn(plan, score);
  if (!walk.ok || (plan.walkOn?.firstStep ?? null) !== null) return asItIs(plan);
  const { proposed, words } = walk.value;
  const changes = setFirstStep(plan, score, proposed);
  const set = changes.flatMap((change) =>
    'register' in change && change.register === 'walkOn' ? [change.value] : [],
  );
  return {
    changes,
    plan: { ...plan, walkOn: set[0] ?? plan.walkOn },
    words: [`First step at ${clock(score.counts[proposed]!.floor)}. ${words}`],
  };
}

function closing(plan: DancePlan, score: FloorScore, target: Ending['target'] | null): BothEnds {
  const { ending, grid } = plan;
  const begun = ending ?? (target && { ...usualEnding, target });
  if (!begun || !grid || begun.moves.length > 0) return asItIs(plan);
  const own = poseOf(plan.moves.filter((move) => suitsMetre(move, grid)));
  const pose = own ?? poseOf(poses.filter((move) => suitsMetre(move, grid)));
  if (!pose) return asItIs(plan);
  const { id, ...fields } = pose;
  const value: Ending = { ...begun, moves: [id] };
  const closed = { ...plan, moves: own ? plan.moves : [...plan.moves, pose], ending: value };
  const solved = solveEnding(closed, score);
  if (!solved.ok) return asItIs(plan);
  const { landing } = solved.value;
  return {
    changes: [...(own ? [] : [{ collection: 'moves' as const, id, fields }]), { register: 'ending', value }],
    plan: closed,
    words: [`Closing pose: ${pose.name}, at ${clock(landing.floor)}${where(value.target)}.`],
  };
}

const where = ({ kind }: Ending['target']): string =>
  kind === 'last strong count' ? ', the last strong count' : '';

/** The pose that asks least; undefined where there is none. */
const poseOf = (moves: readonly Move[]): Move | undefined =>
  moves
    .filter(({ landsOn }) => landsOn !== null)
    .toSorted(
      (a, b) =>
        a.cautions.length - b.cautions.length ||
        a.difficulty - b.difficulty ||
        a.preparation - b.preparation ||
        (a.id < b.id ? -1 : 1),
    )[0];
