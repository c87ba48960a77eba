import type { Board } from '../areas/board.ts';
import { changePlan, type PlanChange } from '../areas/change.ts';
import type { Day } from '../calendar.ts';
import { findingsOf } from './checkBoard.ts';
import type { Finding, Fix, Severity } from './finding.ts';
import { type Difference, ORDER, type Reported, Standing } from './standing.ts';

/** One of the changes that settle a board together: what it is for, and what it does. */
export interface SettlingStep {
  finding: Pick<Finding, 'id' | 'severity' | 'sentence' | 'place'>;
  fix: Fix;
}

/** Changes that together leave as little to settle as was found. */
export interface Settlement {
  steps: SettlingStep[];
  /** All of them as one change. */
  changes: PlanChange[];
  /** What is left that blocks or warns, in the order of the song. */
  left: Finding[];
  /** No smaller set leaves as little: every smaller one of the fixes that were offered has been tried. */
  isLeast: boolean;
}

/** Tries of a fix beyond the first way that was found, and sets that are kept at each size: some tenths of a second of work in all. */
const TRIES = 300;
const WIDTH = 12;
/** A board in which more is to be changed is far from settled: one way is enough. */
const FEW = 5;

/** So many findings that block, and that warn; and as the last figure, changes. Fewer is better, from the left. */
type Cost = readonly [blocks: number, warns: number, steps: number];

const isBetter = (a: Cost, b: Cost): boolean => {
  const i = a.findIndex((figure, k) => figure !== b[k]);
  return i >= 0 && a[i]! < b[i]!;
};

/** A board after some of the fixes. */
interface Way {
  standing: Standing;
  steps: readonly SettlingStep[];
  cost: Cost;
}

/** The smallest set of changes that the search finds, after which as little as possible blocks or warns. */
export function fixAll(board: Board, today: Day): Settlement {
  const steps = fixAllInSteps(board, today);
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}

/**
 * The same, a few tries a step, for whoever has other things to do meanwhile. First one fix after the other, each of which holds by
 * itself: this ends, because each lowers the number of findings at its severity and raises none above. What of that way was needless
 * is left out. Then every smaller set of the offered fixes is tried, also of such as hold only together, the sets of one change
 * before those of two (breadth first; at each size the best are kept, as in a beam search, and the tries are bounded).
 *
 * A set is taken only when it adds nothing as severe as the worst that it settles. Ideas (hints) are nobody's to settle: no change is
 * made for one, and of equal sets the one is taken that was found first.
 */
export function* fixAllInSteps(board: Board, today: Day): Generator<void, Settlement> {
  const from: Way = way(yield* Standing.inSteps(board, today), []);
  let best = yield* withoutNeedless(yield* oneByOne(from, today), from, today);
  let isLeast = best.steps.length <= 1;
  const search = new Search(from, today);
  const most = best.steps.length > FEW ? 0 : best.steps.length + (settled(best) ? -1 : 1);
  for (let size = 1; size <= Math.min(most, best.steps.length + 1); size++) {
    yield* search.grow();
    const found = search.best;
    if (found && isBetter(found.cost, best.cost)) best = found;
    isLeast = !search.isCut && size >= best.steps.length - 1;
    if (search.isOver) break;
  }
  return {
    steps: [...best.steps],
    changes: together(best.steps.flatMap(({ fix }) => fix.changes)),
    left: findingsOf(best.standing).filter(({ severity }) => severity !== 'hints'),
    isLeast,
  };
}

const settled = ({ cost: [blocks, warns] }: Way): boolean => blocks + warns === 0;

function way(standing: Standing, steps: readonly SettlingStep[]): Way {
  const count = (severity: Severity) => standing.found.filter((one) => one.severity === severity).length;
  return { standing, steps, cost: [count('blocks'), count('warns'), steps.length] };
}

/** What is to be settled, the most pressing first. */
const toSettle = ({ standing }: Way): Reported[] =>
  standing.found
    .filter(({ severity }) => severity !== 'hints')
    .sort((a, b) => ORDER[a.severity] - ORDER[b.severity]);

const stepOf = ({ id, severity, sentence, place }: Reported, fix: Fix): SettlingStep => ({
  finding: { id, severity, sentence, place },
  fix,
});

function* after({ standing, steps }: Way, step: SettlingStep, today: Day): Generator<void, Way> {
  const { board } = standing;
  const next = { ...board, plan: changePlan(board.plan, step.fix.changes) };
  return way(yield* Standing.inSteps(next, today), [...steps, step]);
}

/** One fix after the other, as a person would press them, until none is offered. */
function* oneByOne(from: Way, today: Day): Generator<void, Way> {
  let now = from;
  for (;;) {
    yield;
    const offered = findingsOf(now.standing)
      .filter(({ severity }) => severity !== 'hints')
      .sort((a, b) => ORDER[a.severity] - ORDER[b.severity]);
    const finding = offered.find(({ fix }) => fix !== null);
    if (!finding) return now;
    const { id, severity, sentence, place } = finding;
    now = yield* after(now, { finding: { id, severity, sentence, place }, fix: finding.fix! }, today);
  }
}

/** The same way without the changes that later ones made needless. */
function* withoutNeedless(of: Way, from: Way, today: Day): Generator<void, Way> {
  let best = of;
  for (let i = of.steps.length - 2; i >= 0; i--) {
    const fewer = best.steps.filter((step) => step !== of.steps[i]);
    const { board } = from.standing;
    const plan = changePlan(
      board.plan,
      fewer.flatMap(({ fix }) => fix.changes),
    );
    const tried = way(yield* Standing.inSteps({ ...board, plan }, today), fewer);
    if (isBetter(tried.cost, best.cost)) best = tried;
  }
  return best;
}

/** Tries sets of fixes, all of one size before the next larger. */
class Search {
  /** The best set that may be taken. */
  best: Way | null = null;
  /** Some sets were not tried. */
  isCut = false;
  private ways: Way[];
  private tries = 0;
  private readonly known = new Set<string>();

  constructor(
    private readonly from: Way,
    private readonly today: Day,
  ) {
    this.ways = [from];
  }

  get isOver(): boolean {
    return this.ways.length === 0 || this.tries >= TRIES;
  }

  /** Tries every set that has one change more. */
  *grow(): Generator<void> {
    const next: { way: Way; step: SettlingStep; cost: Cost }[] = [];
    for (const way of this.ways) {
      for (const finding of toSettle(way)) {
        for (const fix of finding.fixes()) {
          const step = stepOf(finding, fix);
          const key = keyOf([...way.steps, step]);
          if (this.known.has(key)) continue;
          if (this.tries >= TRIES) {
            this.isCut = true;
            break;
          }
          this.known.add(key);
          this.tries += 1;
          yield;
          const difference = way.standing.after(fix.changes);
          if (difference.gone.size === 0) continue;
          next.push({ way, step, cost: costAfter(way, difference) });
        }
      }
    }
    next.sort((a, b) => (isBetter(a.cost, b.cost) ? -1 : isBetter(b.cost, a.cost) ? 1 : 0));
    if (next.length > WIDTH) this.isCut = true;
    this.ways = [];
    for (const { way, step } of next.slice(0, WIDTH)) {
      const grown = yield* after(way, step, this.today);
      this.ways.push(grown);
      if (mayBeTaken(this.from, grown) && (!this.best || isBetter(grown.cost, this.best.cost)))
        this.best = grown;
    }
  }
}

function costAfter({ standing, cost }: Way, { gone, added }: Difference): Cost {
  const was = new Map(standing.found.map(({ id, severity }) => [id, severity]));
  const change = (severity: Severity) =>
    [...added.values()].filter((one) => one === severity).length -
    [...gone].filter((id) => was.get(id) === severity).length -
    [...added].filter(([id, now]) => was.get(id) === severity && now !== severity).length;
  return [cost[0] + change('blocks'), cost[1] + change('warns'), cost[2] + 1];
}

/** Whether all that a set of changes adds is less severe than the worst that it settles. */
export function mayBeTaken(from: Pick<Way, 'standing'>, to: Pick<Way, 'standing'>): boolean {
  const severities = ({ standing }: Pick<Way, 'standing'>) =>
    new Map(standing.found.map(({ id, severity }) => [id, ORDER[severity]]));
  const [was, is] = [severities(from), severities(to)];
  const ended = [...was].filter(([id]) => !is.has(id)).map(([, order]) => order);
  const added = [...is].filter(([id, order]) => order < (was.get(id) ?? Number.POSITIVE_INFINITY));
  return ended.length > 0 && added.every(([, order]) => order > Math.min(...ended));
}

const keyOf = (steps: readonly SettlingStep[]): string =>
  JSON.stringify(steps.map(({ fix }) => JSON.stringify(fix.changes)).sort());

/** Changes one after the other as one: of a register the last value, of an entry all fields. */
export function together(changes: readonly PlanChange[]): PlanChange[] {
  const kept = new Map<string, PlanChange>();
  for (const change of changes) {
    const key = 'register' in change ? change.register : `${change.collection} ${change.id}`;
    const before = kept.get(key);
    const merged =
      before && 'collection' in before && 'collection' in change && before.fields && change.fields
        ? ({ ...change, fields: { ...before.fields, ...change.fields } } as PlanChange)
        : change;
    kept.delete(key);
    kept.set(key, merged);
  }
  return [...kept.values()];
}
