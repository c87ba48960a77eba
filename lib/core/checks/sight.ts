import type { Board } from '../areas/board.ts';
import type { Plan } from '../areas/plan.ts';
import type { Day } from '../calendar.ts';
import { afterSound, basicOf } from '../dance/basics.ts';
import { type DancedThrough, dancedThrough } from '../dance/dancedThrough.ts';
import { type SolvedEnding, solveEnding } from '../dance/ending.ts';
import { type Place, pathOf } from '../dance/path.ts';
import { type LaidMove, laidOut } from '../dance/place.ts';
import { planWalkOn, type WalkOnPlan } from '../dance/walkOn.ts';
import type { FloorScore } from '../edit/score.ts';
import type { Result } from '../result.ts';
import type { FeatureTable } from '../song/features.ts';
import type { Danced, Sight } from './finding.ts';
import { Taken } from './taken.ts';

/**
 * What of a dance was looked at: registers and collections that fixes change most often, and `used`, which moves are danced and
 * how many. What nobody looked at cannot alter what was found. `moves` is the couple's list itself, not the moves that are danced.
 */
export type Looked = 'placed' | 'ending' | 'walkOn' | 'used' | 'moves';

/** What the rules look at. `score` and `heard` are the board's, made once where only the dance changes. */
export const sightOf = (
  board: Board,
  score: FloorScore | null,
  heard: FeatureTable | null,
  today: Day,
): Sight => ({ board, danced: dancedOf(board.plan, score, heard), today });

/**
 * A dance on its floor score, each part of it worked out when it is first asked for; null without counts.
 * @param known parts that are known already
 */
export function dancedOf(
  plan: Plan,
  score: FloorScore | null,
  heard: FeatureTable | null,
  known: Known = {},
): Danced | null {
  if (!plan.grid || !score || score.counts.length === 0) return null;
  return new DancedOnce(plan, score, heard, { ...known });
}

type Part = 'laid' | 'whole' | 'used' | 'placements' | 'taken' | 'through' | 'path' | 'ending' | 'walk';
export type Known = { -readonly [P in Part]?: Danced[P] };

class DancedOnce implements Danced {
  readonly grid: Danced['grid'];
  readonly looked: Danced['looked'];

  constructor(
    private readonly plan: Plan,
    readonly score: FloorScore,
    readonly heard: FeatureTable | null,
    private readonly known: Known,
  ) {
    this.grid = plan.grid!;
    this.looked = { from: 0, to: score.counts.length };
  }

  get laid(): LaidMove[] {
    this.known.laid ??= laidOut(this.plan, this.score);
    return this.known.laid;
  }

  get ending(): Result<SolvedEnding> {
    this.known.ending ??= solveEnding(this.plan, this.score);
    return this.known.ending;
  }

  get walk(): WalkOnPlan | null {
    if (this.known.walk === undefined) {
      const walk = planWalkOn(this.plan, this.score);
      this.known.walk = walk.ok ? walk.value : null;
    }
    return this.known.walk;
  }

  get whole(): LaidMove[] {
    this.known.whole ??= inOrder(
      this.laid.filter((one) => !one.removedByEdit),
      this.ending.ok ? this.ending.value.moves : [],
    );
    return this.known.whole;
  }

  get used(): LaidMove[] {
    this.known.used ??= [
      ...new Map(this.whole.toReversed().map((laid) => [laid.move.id, laid])).values(),
    ].sort((a, b) => a.at - b.at);
    return this.known.used;
  }

  get placements(): number {
    this.known.placements ??= this.laid.filter(isPlacement).length;
    return this.known.placements;
  }

  get taken(): Taken {
    this.known.taken ??= new Taken(this.whole);
    return this.known.taken;
  }

  get through(): DancedThrough {
    this.known.through ??= throughOf(this.plan, this);
    return this.known.through;
  }

  get path(): Place[] {
    this.known.path ??= pathOfDance(this.plan, this);
    return this.known.path;
  }
}

/** A dance run through the automaton. */
export const throughOf = (
  plan: Plan,
  { grid, whole, walk }: Pick<Danced, 'grid' | 'whole' | 'walk'>,
): DancedThrough => dancedThrough({ grid, basic: basicOf(plan), first: walk?.firstStep ?? 0, laid: whole });

/** Where a dance leads the couple: to the end of its ending, or of the music. */
export function pathOfDance(
  plan: Plan,
  { grid, whole, walk, ending, score }: Pick<Danced, 'grid' | 'whole' | 'walk' | 'ending' | 'score'>,
): Place[] {
  const sequence = { grid, basic: basicOf(plan), first: walk?.firstStep ?? 0, laid: whole };
  return pathOf(sequence, plan.stride, ending.ok ? undefined : afterSound(score));
}

/** Whether a placed move is played, and no link. */
export const isPlacement = ({ removedByEdit, move }: LaidMove): boolean => !removedByEdit && !move.link;

/** Placed moves, themselves in order, and the ending's, in the order in which they begin. */
export const inOrder = (placed: readonly LaidMove[], ending: readonly LaidMove[]): LaidMove[] =>
  [...placed, ...ending].sort((a, b) => a.at - b.at);

/** A sight that notes what is looked at through it, until it is told to stop. */
export function watched({ board, danced, today }: Sight): {
  sight: Sight;
  saw: ReadonlySet<Looked>;
  stop: () => void;
} {
  const saw = new Set<Looked>();
  let isOver = false;
  const see = (part: Looked) => {
    if (!isOver) saw.add(part);
  };
  return {
    saw,
    stop() {
      isOver = true;
    },
    sight: {
      board: { ...board, plan: watchedPlan(board.plan, see) },
      danced: danced && new WatchedDance(danced, see),
      today,
    },
  };
}

function watchedPlan(plan: Plan, see: (part: Looked) => void): Plan {
  const noting = (part: 'placed' | 'ending' | 'walkOn' | 'moves') => ({
    enumerable: true,
    get() {
      see(part);
      return plan[part];
    },
  });
  return Object.defineProperties(
    { ...plan },
    { placed: noting('placed'), ending: noting('ending'), walkOn: noting('walkOn'), moves: noting('moves') },
  );
}

class WatchedDance implements Danced {
  readonly score: Danced['score'];
  readonly grid: Danced['grid'];
  readonly heard: Danced['heard'];
  readonly looked: Danced['looked'];

  constructor(
    private readonly of: Danced,
    private readonly see: (part: Looked) => void,
  ) {
    this.score = of.score;
    this.grid = of.grid;
    this.heard = of.heard;
    this.looked = of.looked;
  }

  get laid() {
    this.see('placed');
    return this.of.laid;
  }

  get whole() {
    this.see('placed');
    this.see('ending');
    return this.of.whole;
  }

  get taken() {
    this.see('placed');
    this.see('ending');
    return this.of.taken;
  }

  get through() {
    for (const part of ['placed', 'ending', 'walkOn', 'moves'] as const) this.see(part);
    return this.of.through;
  }

  get path() {
    for (const part of ['placed', 'ending', 'walkOn', 'moves'] as const) this.see(part);
    return this.of.path;
  }

  get used() {
    this.see('used');
    return this.of.used;
  }

  get placements() {
    this.see('used');
    return this.of.placements;
  }

  get ending() {
    this.see('ending');
    return this.of.ending;
  }

  get walk() {
    this.see('walkOn');
    return this.of.walk;
  }
}
