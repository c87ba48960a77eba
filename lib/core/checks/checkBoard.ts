import type { AreaName, Board } from '../areas/board.ts';
import { changePlan, type PlanChange } from '../areas/change.ts';
import { boardScore, scoredFields } from '../areas/score.ts';
import type { Day } from '../calendar.ts';
import type { FloorScore } from '../edit/score.ts';
import type { FeatureTable } from '../song/features.ts';
import type { Draft, Finding, Fix, Rule, Severity, Sight } from './finding.ts';
import { heardOf } from './heard.ts';
import { rules } from './rules.generated.ts';
import { sightOf } from './sight.ts';

/** Fixes that are tried for one finding. */
const TRIED = 6;
const ORDER: Record<Severity, number> = { blocks: 0, warns: 1, hints: 2 };

type Reported = Omit<Finding, 'fix'> & { fixes: () => Fix[] };

/**
 * All that the checks have to say about a board, in the order of the song (what has no place comes first), ids stable from
 * run to run. A rule that needs an area which is null here is not run: `rulesNotRun` tells. A fix is offered only when
 * applying it ends its finding and adds none that blocks, nor the same elsewhere; one that adds nothing at all is preferred.
 * Which one that is, is tried out when a finding's `fix` is first read, and kept: most readers show a few of them.
 * @param today ISO date
 */
export function checkBoard(board: Board, today: Day): Finding[] {
  const steps = checkInSteps(board, today);
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}

/** The same, a rule a step, for whoever has other things to do meanwhile. */
export function* checkInSteps(board: Board, today: Day): Generator<void, Finding[]> {
  const score = boardScore(board.plan);
  const heard = heardOf(board.plan);
  const sight = sightOf(board, score, heard, today);
  const found: Reported[] = [];
  for (const rule of rules) {
    yield;
    found.push(...reportsOf(rule, sight));
  }
  inOrder(found);
  const before = new Map(found.map(({ id, severity }) => [id, severity]));
  return found.map(({ fixes, ...finding }) => {
    let fix: Fix | null | undefined;
    return {
      ...finding,
      get fix() {
        if (fix === undefined) fix = holding(board, score, heard, today, finding, fixes(), before);
        return fix;
      },
    };
  });
}

/** Rules that were not run because this reader may not see an area that they read. */
export function rulesNotRun(board: Board): { rule: Rule; missing: AreaName[] }[] {
  return rules
    .map((rule) => ({ rule, missing: rule.reads.filter((area) => board[area] === null) }))
    .filter(({ missing }) => missing.length > 0);
}

function reported(sight: Sight, from: readonly Rule[]): Reported[] {
  return inOrder(from.flatMap((rule) => reportsOf(rule, sight)));
}

const reportsOf = (rule: Rule, sight: Sight): Reported[] =>
  rule.reads.every((area) => sight.board[area] !== null)
    ? rule.run(sight).map((draft) => asReported(rule, draft))
    : [];

/** Sorts them in place, in the order of the song. */
function inOrder(found: Reported[]): Reported[] {
  const when = (finding: Reported) => finding.place.floorTime ?? -1;
  return found.sort(
    (a, b) => when(a) - when(b) || ORDER[a.severity] - ORDER[b.severity] || (a.id < b.id ? -1 : 1),
  );
}

function asReported(rule: Rule, { about, fixes, severity = rule.severity, ...draft }: Draft): Reported {
  if (ORDER[severity] < ORDER[rule.severity]) throw new Error(`rule ${rule.id} does not declare ${severity}`);
  return {
    id: about ? `${rule.id}:${about}` : rule.id,
    rule: rule.id,
    severity,
    ...draft,
    fixes: () => {
      const wanted = fixes?.() ?? [];
      const undeclared = wanted
        .flatMap(({ changes }) => changes)
        .find((c) => !rule.fixes.includes(partOf(c)));
      if (undeclared) throw new Error(`rule ${rule.id} does not declare a fix of ${partOf(undeclared)}`);
      return wanted;
    },
  };
}

/** The register or collection that a change is of. */
const partOf = (change: PlanChange): string => ('register' in change ? change.register : change.collection);

function holding(
  board: Board,
  score: FloorScore | null,
  heard: FeatureTable | null,
  today: Day,
  { id, rule: ruleId }: Pick<Finding, 'id' | 'rule'>,
  fixes: Fix[],
  before: ReadonlyMap<string, Severity>,
): Fix | null {
  let fallback: Fix | null = null;
  for (const fix of fixes.slice(0, TRIED)) {
    const plan = changePlan(board.plan, fix.changes);
    const remade = fix.changes.some((change) => songParts.has(partOf(change)));
    const sight = sightOf({ ...board, plan }, remade ? boardScore(plan) : score, heard, today);
    // Few rules decide whether a fix holds, its own most often: all are asked only about one that does.
    const own = reported(sight, byId.get(ruleId)!);
    if (own.some((finding) => finding.id === id || !before.has(finding.id))) continue;
    const serious = reported(sight, mayBlock);
    if (serious.some((finding) => finding.severity === 'blocks' && before.get(finding.id) !== 'blocks'))
      continue;
    if ([...serious, ...reported(sight, neverBlock)].every((finding) => before.has(finding.id))) return fix;
    fallback ??= fix;
  }
  return fallback;
}

/** Ids of the rules that may offer a fix. */
export const mayBeFixed: ReadonlySet<string> = new Set(
  rules.filter(({ fixes }) => fixes.length > 0).map(({ id }) => id),
);

const songParts = new Set<string>(scoredFields);
const byId = new Map(rules.map((rule) => [rule.id, [rule]]));
const [mayBlock, neverBlock] = [true, false].map((may) =>
  rules.filter(({ severity }) => (severity === 'blocks') === may),
) as [Rule[], Rule[]];
