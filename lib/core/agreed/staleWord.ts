import type { DjAnswer } from '../areas/answer.ts';
import type { AreaName, Board } from '../areas/board.ts';
import { same } from '../edit/canonical.ts';
import type { Gesture } from './gesture.ts';
import { currentDigest } from './played.ts';
import { answerProblem, finalProblem } from './problems.ts';

/** Why a word that others rely on would be given for what is not so (any more), or by whom it may not be; null where all is well. */
export function staleWord(
  before: Board,
  after: Board,
  area: AreaName,
  { role, way }: Gesture,
): string | null {
  switch (area) {
    case 'plan':
      return settledProblem(before, after, role) ?? askedProblem(before, after, way);
    case 'answer':
      return saidProblem(before, after);
    case 'show': {
      const final = after.show?.final ?? null;
      if (same(final, before.show?.final ?? null)) return null;
      const problem = finalProblem(after, final);
      return way === 'arrived' && finalProblem(before, final) === null ? null : problem;
    }
    default:
      return null;
  }
}

const settledProblem = (before: Board, { plan }: Board, role: Gesture['role']): string | null =>
  plan.settled && role !== 'instructor' && !same(plan.settled, before.plan.settled)
    ? 'Only the instructor settles song and edit.'
    : null;

function askedProblem(before: Board, after: Board, way: Gesture['way']): string | null {
  const { asked } = after.plan;
  if (asked === null || same(asked, before.plan.asked)) return null;
  // What was changed while offline arrives at once with what was said of it, before or after.
  const spoken = way === 'arrived' ? [before, after] : [before];
  return spoken.some(({ plan }) => asked.digest === currentDigest(plan))
    ? null
    : 'The edit has changed meanwhile: look at it, and ask again.';
}

function saidProblem(before: Board, after: Board): string | null {
  const [were, are] = [before, after].map(
    ({ answer }) => new Map((answer?.answers ?? []).map((one) => [one.id, one])),
  ) as [Answers, Answers];
  for (const id of new Set([...were.keys(), ...are.keys()])) {
    const [was, is] = [were.get(id), are.get(id)];
    const problem = was === is ? null : answerProblem(before, was, is);
    if (problem !== null) return problem;
  }
  return null;
}

type Answers = Map<string, DjAnswer>;
