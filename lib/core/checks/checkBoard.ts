import type { AreaName, Board } from '../areas/board.ts';
import type { Day } from '../calendar.ts';
import type { Finding, Fix, Rule, Severity } from './finding.ts';
import { rules } from './rules.generated.ts';
import { ORDER, type Reported, Standing } from './standing.ts';

/**
 * All that the checks have to say about a board, in the order of the song (what has no place comes first), ids stable from
 * run to run. A rule that needs an area which is null here is not run: `rulesNotRun` tells; nor is one whose time has not come,
 * nor any once the dance is over. Which fix is offered is tried out when a finding's `fix` is first read, and kept: most readers
 * show a few of them.
 * @param today ISO date
 */
export function checkBoard(board: Board, today: Day): Finding[] {
  return findingsOf(Standing.of(board, today));
}

/** The same, a rule a step, for whoever has other things to do meanwhile. */
export function* checkInSteps(board: Board, today: Day): Generator<void, Finding[]> {
  return findingsOf(yield* Standing.inSteps(board, today));
}

export const findingsOf = (standing: Standing): Finding[] =>
  standing.found.map((reported) => {
    const { fixes: _, ...finding } = reported;
    let fix: Fix | null | undefined;
    return {
      ...finding,
      get fix() {
        if (fix === undefined) fix = fixFor(reported, standing);
        return fix;
      },
    };
  });

/**
 * The first of a finding's fixes that ends it and adds nothing; else, of those that add only what is less severe than it, the one
 * that adds least. So each fix that is offered lowers the number of findings at its severity, and raises none above: whoever goes
 * on fixing comes to an end.
 */
function fixFor(reported: Reported, standing: Standing): Fix | null {
  let best: Fix | null = null;
  let least = Number.POSITIVE_INFINITY;
  const isRefused = (added: ReadonlyMap<string, Severity>) =>
    added.size >= least || [...added.values()].some((one) => ORDER[one] <= ORDER[reported.severity]);
  for (const fix of reported.fixes()) {
    const added = standing.mended(reported, fix.changes, isRefused);
    if (!added) continue;
    best = fix;
    least = added.size;
    if (least === 0) break;
  }
  return best;
}

/** Rules that were not run because this reader may not see an area that they read. */
export function rulesNotRun(board: Board): { rule: Rule; missing: AreaName[] }[] {
  return rules
    .map((rule) => ({ rule, missing: rule.reads.filter((area) => board[area] === null) }))
    .filter(({ missing }) => missing.length > 0);
}

/** Ids of the rules that may offer a fix. */
export const mayBeFixed: ReadonlySet<string> = new Set(
  rules.filter(({ fixes }) => fixes.length > 0).map(({ id }) => id),
);
